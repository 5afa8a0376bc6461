-- Which planned session a log belongs to: the one it names, else that of its week with most exercises in common.
create table found_link as
with exercise_of_log as (
    select distinct log_id, asked_id as exercise_id from set_log
), exercise_of_session as (
    select distinct session_id, exercise_id from planned_exercise
)
select log.log_id, session.session_id
from session_log log
join planned_session session on session.client_id = log.client_id and session.week_start = log.week_start
join exercise_of_log done on done.log_id = log.log_id
join exercise_of_session asked on asked.session_id = session.session_id and asked.exercise_id = done.exercise_id
where log.given_session_id is null
group by log.log_id, log.performed_on, session.session_id, session.suggested_on
qualify row_number() over (
    partition by log.log_id
    order by count(*) desc, abs(session.suggested_on - log.performed_on), session.suggested_on, session.session_id
) = 1;

-- standing 0: the session's log, 1: a second one of it, 2: an extra session
create table link as
select log_id, session_id, case when session_id is null then 2 when nth = 1 then 0 else 1 end as standing
from (
    select log.log_id, coalesce(log.given_session_id, found.session_id) as session_id,
           row_number() over (
               partition by coalesce(log.given_session_id, found.session_id)
               order by log.performed_on, log.given_session_id is null, log.filed
           ) as nth
    from session_log log left join found_link found using (log_id)
);
