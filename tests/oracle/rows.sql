-- The rows of the record as they are, with dates for day numbers and null for "not there".
create view client as
select client_id, date '1970-01-01' + as_of_day::int as as_of, date '1970-01-01' + joined_day::int as joined_on,
       sends, if(isnan(minutes), null, minutes) as minutes, is_active
from clients;

create view pause as
select client_id, date '1970-01-01' + from_day::int as from_on, date '1970-01-01' + until_day::int as until_on
from pauses;

create view planned_session as
select session_id, client_id, block_id, date '1970-01-01' + suggested_day::int as suggested_on,
       date_trunc('week', date '1970-01-01' + suggested_day::int)::date as week_start,
       date '1970-01-01' + block_end_day::int as block_ends_on
from planned_sessions;

create view planned_exercise as
select planned_id, session_id, position, exercise_id, sets, reps, target_code, load_code,
       if(load_code >= 0, load_code, null) as load_g, implements, sides, measure = 0 as is_in_reps,
       if(isnan(rest_s), null, rest_s) as rest_s, changed = 3 as changes_rest, changed = 5 as is_deload,
       if(isnan(tempo_s), null, tempo_s) as tempo_s
from planned_exercises;

create view set_target as select planned_id, number, reps from set_targets;
create view exercise as select exercise_id, implements, sides from exercises;
create view exercise_region as select exercise_id, nullif(region_code, -1) as region_code from exercise_regions;

create view session_log as
select log_id, client_id, date '1970-01-01' + performed_day::int as performed_on,
       date_trunc('week', date '1970-01-01' + performed_day::int)::date as week_start,
       nullif(given_session_id, -1) as given_session_id, filed, has_details,
       if(isnan(minutes), null, minutes) as minutes, if(isnan(effort), null, effort) as effort
from session_logs;

create view set_log as
select log_id, position, number, exercise_id, asked_id, reps, load_code, if(load_code >= 0, load_code, null) as load_g,
       if(isnan(rest_s), null, rest_s) as rest_s, is_warm_up, reps_left, if(isnan(body_g), null, body_g) as body_g
from set_logs;

create view check_in_plan as
select client_id, date '1970-01-01' + begins_day::int as begins_on,
       if(isnan(set_day), null, date '1970-01-01' + set_day::int) as set_on
from check_in_plans;

create view check_in as
select client_id, date '1970-01-01' + due_day::int as due_on, date '1970-01-01' + held_day::int as held_on
from check_ins;

create view pain_report as
select client_id, log_id, date '1970-01-01' + day::int as reported_on, "order" as nth, pain,
       nullif(region_code, -1) as region_code, is_alarm
from pain_reports;
