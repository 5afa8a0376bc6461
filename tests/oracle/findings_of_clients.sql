-- Findings about a client as a whole, on every day. Kinds: 0 pain, 1 turnout, 5 cut short, 7 plan runs out,
-- 10 check-in due.
-- Urgencies: 0 now, 1 act, 2 watch. Turnout: 0 silent, 1 quiet, 2 not started, 3 week gone, 4 early.
create table found_pain as
select client_id, day, 0 as kind, region_code as subject, urgency, reports as figure from pain_on_day;

create table found_turnout as
with due as (
    select *, row_number() over (partition by client_id, day order by suggested_on desc, session_id desc) as back
    from session_on_day where status <= 4
), of_day as (
    select client_id, day, min(suggested_on) as first_due_on, max(suggested_on) as last_due_on,
           coalesce(min(back) filter (status <= 2), count(*) + 1) - 1 as missed_in_a_row
    from due group by client_id, day
), known as (
    select client_day.*, of_day.* exclude (client_id, day), last_log_on,
           (select count(*) from generate_series(last_log_on + 1, client_day.day, interval 1 day) as later(day_after)
            where not exists (from pause where pause.client_id = client_day.client_id
                                  and day_after::date between pause.from_on and pause.until_on)) as days_without,
           exists (from due where due.client_id = client_day.client_id and due.day = client_day.day
                       and due.suggested_on > last_log_on and due.suggested_on <= client_day.day) as is_awaited
    from client_day join of_day using (client_id, day) left join log_on_day using (client_id, day)
    where is_active and not is_paused
), named as (
    select *, case when last_log_on is null then if(day >= first_due_on + 5, 2, null)
                when is_awaited and days_without >= 28 then 0
                when is_awaited and days_without >= 14 then 1
                when missed_in_a_row >= 3 then 3
                when missed_in_a_row >= 2 and day < first_due_on + 28 then 4 end as subject
    from known
)
select client_id, day, 1 as kind, subject, if(subject = 4, 2, 1) as urgency,
       case when subject in (0, 1) then days_without when subject = 2 then day - first_due_on
            else missed_in_a_row end as figure
from named where subject is not null;

create table found_cut_short as
with linked as (
    select client_day.client_id, client_day.day,
           coalesce(outcome.log_completion < 0.8, false)
               or coalesce(log.minutes >= 1.3 * client_day.has_minutes - 0.000001, false) as is_cut,
           row_number() over (partition by client_day.client_id, client_day.day
                              order by outcome.performed_on desc, outcome.suggested_on desc, outcome.session_id desc)
               as back
    from client_day
    join outcome on outcome.client_id = client_day.client_id and outcome.performed_on <= client_day.day
    join session_log log using (log_id)
)
select client_id, day, 5 as kind, -1 as subject, 2 as urgency, count(*) filter (is_cut) as figure
from linked where back <= 4
group by client_id, day
having count(*) = 4 and count(*) filter (is_cut) >= 3;

create table found_plan_runs_out as
select client_id, day, 7 as kind, -1 as subject, 1 as urgency, day - (last_week + 3) as figure
from client_day
join (select client_id, max(week_start) as last_week from planned_session group by client_id) using (client_id)
where is_active and not is_paused and day >= last_week + 3;

create table found_check_in_due as
with to_come as (
    select client_id, coalesce(set_on,
               (select min(joined_on + (28 * nth)::int) from unnest(generate_series(1, 400)) as rhythm(nth)
                where joined_on + (28 * nth)::int >= begins_on and joined_on + (28 * nth)::int >= last_held_on + 14)) as due_on
    from (select plan.*, joined_on, coalesce(max(held_on), date '1900-01-01') as last_held_on
          from check_in_plan plan join client using (client_id) left join check_in using (client_id)
          group by all) as planned
), owed as (
    select client_id, due_on, held_on from check_in
    union all select client_id, due_on, null from to_come
), outside as (
    select client_id, held_on, (select min(day_after::date) from generate_series(greatest(due_on, begins_on),
               greatest(due_on, begins_on) + 400, interval 1 day) as later(day_after)
               where not exists (from pause where pause.client_id = owed.client_id
                                     and day_after::date between pause.from_on and pause.until_on)) as due_on
    from owed join check_in_plan using (client_id)
), awaited as (
    select client_day.*, due_on, row_number() over (partition by client_id, day order by held_on nulls last) as nth
    from client_day join outside using (client_id) where held_on is null or held_on > day
)
select client_id, day, 10 as kind, -1 as subject, if(day >= due_on + 7, 1, 2) as urgency, day - due_on as figure
from awaited where nth = 1 and is_active and not is_paused and day >= due_on - 3;
