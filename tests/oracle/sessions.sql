-- What every planned session asked for, what was done of it, and what became of it as at each client's day.
create table asked_and_done as
with asked as (
    select planned.planned_id, planned.session_id, planned.exercise_id, planned.sets, planned.load_g,
           coalesce(own.reps, planned.sets * planned.reps) as total_reps,
           planned.implements, planned.sides, planned.position, planned.rest_s,
           if(planned.is_in_reps, coalesce(planned.tempo_s, 3), 1) as seconds_a_rep
    from planned_exercise planned
    left join (select planned_id, sum(reps) as reps from set_target group by planned_id) as own using (planned_id)
), done as (
    select planned_id, count(*) as sets, sum(tonnage_g) as grams
    from working_set where standing = 0 and planned_id is not null
    group by planned_id
)
select asked.planned_id, asked.session_id, asked.exercise_id, asked.position, asked.sets as planned_sets,
       least(asked.sets, coalesce(done.sets, 0)) as counted_sets,
       asked.total_reps * coalesce(asked.load_g, 0) * asked.implements * asked.sides as planned_g,
       if(asked.load_g is null, 0, coalesce(done.grams, 0)) as done_g,
       asked.total_reps * asked.sides * asked.seconds_a_rep
           + case when asked.sets > 1 then asked.rest_s * (asked.sets - 1) else 0 end as seconds
from asked left join done using (planned_id);

create table session_amounts as
with turned as (
    select *, lag(exercise_id) over (partition by session_id order by position) <> exercise_id as is_change
    from asked_and_done
)
select session.session_id,
       coalesce(sum(planned_sets), 0)::bigint as planned_sets, coalesce(sum(counted_sets), 0)::bigint as counted_sets,
       coalesce(sum(planned_g), 0)::bigint as planned_g,
       coalesce(sum(least(done_g, planned_g)), 0)::bigint as dosed_g, coalesce(sum(done_g), 0)::bigint as done_g,
       case when count(turned.planned_id) = count(turned.seconds)
            then (coalesce(sum(seconds), 0) + 60 * count(*) filter (is_change) + 300) / 60.0 end as planned_minutes
from planned_session session left join turned using (session_id)
group by session.session_id;

create table outcome as
select session.session_id, session.client_id, session.suggested_on, session.week_start, link.log_id, log.performed_on,
       coalesce(log.has_details, false) as has_details,
       session.suggested_on < client.joined_on or exists (
           from pause where pause.client_id = session.client_id
               and session.suggested_on between pause.from_on and pause.until_on
       ) as is_excused,
       case client.sends when 1 then session.week_start + 8 when 2 then session.block_ends_on + 2
                         else session.week_start + 6 end as sent_by,
       client.sends = 0 as sends_each, amounts.* exclude (session_id),
       case when not log.has_details then null
            when log.has_details and amounts.planned_sets = 0 then 1.0
            when log.has_details then amounts.counted_sets / amounts.planned_sets end as log_completion
from planned_session session
join client using (client_id)
join session_amounts amounts using (session_id)
left join link on link.session_id = session.session_id and link.standing = 0
left join session_log log on log.log_id = link.log_id;

-- Statuses: 0 done, 1 partial, 2 told, 3 missed, 4 overdue, 5 awaited, 6 not due, 7 to come.
create macro status_at(performed_on, has_details, log_completion, is_excused, sent_by, suggested_on, sends_each, day) as
case when performed_on <= day and not has_details then 2
     when performed_on <= day and log_completion >= 0.8 then 0
     when performed_on <= day then 1
     when is_excused then 6
     when day > sent_by then 3
     when day >= suggested_on + 2 and sends_each then 4
     when day >= suggested_on + 2 then 5
     else 7 end;

create table session_status as
select outcome.*, status, status <= 4 as is_due, status <= 2 as is_attended,
       case when status in (3, 4) then 0.0 when status in (0, 1) then log_completion end as set_completion,
       status <= 2 and performed_on > week_start + 6 as is_done_later
from (
    select outcome.*, status_at(performed_on, has_details, log_completion, is_excused, sent_by, suggested_on,
                                sends_each, client.as_of) as status
    from outcome join client using (client_id)
) as outcome;
