-- The figures of each client's ISO weeks up to that of their day.
create table log_amounts as
select log.*, coalesce(sum(done.tonnage_g), 0)::bigint as tonnage_g,
       coalesce(sum(done.body_tonnage_g), 0)::bigint as body_tonnage_g, count(done.log_id) as working_sets
from session_log log left join working_set done using (log_id)
group by all;

create table planned_week as
select client_id, week_start,
       count(*) filter (is_due) as due,
       count(*) filter (status = 0) as done, count(*) filter (status = 1) as partial,
       count(*) filter (status = 2) as told, count(*) filter (status = 3) as missed,
       count(*) filter (status = 4) as overdue, count(*) filter (status = 5) as awaited,
       count(*) filter (status = 6) as not_due,
       count(*) filter (is_attended) / nullif(count(*) filter (is_due), 0) as turnout,
       avg(set_completion) filter (is_due and status <> 2) as completion,
       coalesce(sum(planned_sets) filter (is_due and status <> 2), 0)::bigint as planned_sets,
       coalesce(sum(counted_sets) filter (status in (0, 1)), 0)::bigint as counted_sets,
       coalesce(sum(planned_g) filter (is_due and status <> 2), 0)::bigint as planned_g,
       coalesce(sum(dosed_g) filter (status in (0, 1)), 0)::bigint as dosed_g,
       coalesce(sum(done_g) filter (status in (0, 1)), 0)::bigint as done_g,
       coalesce(sum(tonnage_g) filter (is_timed), 0)::bigint as timed_g,
       coalesce(sum(minutes) filter (is_timed), 0) as timed_minutes,
       coalesce(sum(planned_g) filter (is_timed), 0)::bigint as timed_planned_g,
       coalesce(sum(planned_minutes) filter (is_timed), 0) as timed_planned_minutes
from (
    select status.*, log.minutes, log.tonnage_g,
           status.status in (0, 1) and log.minutes is not null and status.planned_g > 0
               and status.planned_minutes is not null as is_timed
    from session_status status
    join client using (client_id)
    left join log_amounts log on log.log_id = status.log_id
    where status.week_start <= date_trunc('week', client.as_of)
)
group by client_id, week_start;

create table performed_week as
select client_id, week_start,
       sum(tonnage_g) filter (has_details) / 1000 as tonnage_kg,
       nullif(sum(body_tonnage_g) filter (has_details), 0) / 1000 as body_mass_tonnage_kg,
       sum(minutes) as minutes,
       sum(tonnage_g) filter (has_details and minutes is not null) / 1000 / sum(minutes) filter (has_details)
           as density_kg_min,
       sum(effort * minutes) as session_load
from log_amounts semi join client on client.client_id = log_amounts.client_id and performed_on <= as_of
group by client_id, week_start;

create table week_figures as
select client_id, week_start - date '1970-01-01' as week_start_day,
       coalesce(columns(['due', 'done', 'partial', 'told', 'missed', 'overdue', 'awaited', 'not_due', 'planned_sets',
                         'counted_sets', 'planned_g', 'dosed_g', 'done_g', 'timed_g', 'timed_minutes',
                         'timed_planned_g', 'timed_planned_minutes']), 0),
       turnout, completion, dosed_g / nullif(planned_g, 0) as dose, done_g / nullif(planned_g, 0) as dose_uncapped,
       tonnage_kg, body_mass_tonnage_kg, minutes, density_kg_min, session_load
from planned_week full join performed_week using (client_id, week_start);
