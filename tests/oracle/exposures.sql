-- Whether what was asked was met, each time a client met a planned exercise; with landings and rounds.
-- Reasons: 0 none, 1 not logged, 2 lighter, 3 fewer sets, 4 heavier, 5 fewer reps, 6 met with longer rest.
create table planned_tally as
select planned.planned_id,
       count(done.planned_id) as working_sets,
       count(*) filter (done.is_at_load) as sets_at_load,
       count(*) filter (done.is_at_load and done.reps >= done.target_reps) as sets_met,
       coalesce(bool_or(done.load_g * 100 > planned.load_g * 101), false) as has_heavier_set,
       coalesce(sum(done.tonnage_g), 0)::bigint as tonnage_g,
       avg(done.rest_s) as mean_rest_s,
       max(case when done.reps = 1 then done.load_g / 1000
                when done.reps between 2 and 10 then done.load_g / 1000 * (1 + done.reps / 30) end)
           filter (planned.is_in_reps and not done.is_swapped) as best_e1rm_kg,
       coalesce(max(done.load_code), -1) as top_load_code,
       coalesce(arg_max(done.reps - done.target_reps, done.nth), 0) as last_reps_over,
       coalesce(arg_max(done.reps_left, done.nth), -1) as last_reps_left
from planned_exercise planned
left join (
    select done.*, coalesce(done.load_g * 100 >= asked.load_g * 99, asked.load_g is null) as is_at_load
    from working_set done join planned_exercise asked using (planned_id)
    where standing = 0
) as done using (planned_id)
group by planned.planned_id;

create table planned_round as
with marked as (
    select planned.*, session.block_id, session.suggested_on,
           coalesce(lag(planned.load_code) over in_time <> planned.load_code, true) as is_new_load,
           row_number() over in_time as nth
    from planned_exercise planned join planned_session session using (session_id)
    where not planned.is_deload
    window in_time as (partition by session.block_id, planned.exercise_id
                       order by session.suggested_on, planned.position, planned.session_id)
), rounds as (
    select *, count(*) filter (is_new_load) over (partition by block_id, exercise_id order by nth) as round
    from marked
), stages as (
    select *, row_number() over (partition by block_id, exercise_id, round order by first_nth) - 1 as stage,
           count(*) over (partition by block_id, exercise_id, round) as stages
    from (select block_id, exercise_id, round, sets, target_code, rest_s, min(nth) as first_nth
          from rounds group by all)
)
select rounds.planned_id, rounds.block_id, rounds.round, stages.stage, stages.stages
from rounds join stages on stages.block_id = rounds.block_id and stages.exercise_id = rounds.exercise_id
    and stages.round = rounds.round and stages.sets = rounds.sets and stages.target_code = rounds.target_code
    and stages.rest_s is not distinct from rounds.rest_s;

-- Days on which somebody came back: a session fourteen days or more after the session before.
create table comeback as
select client_id, performed_on
from (
    select client_id, performed_on,
           performed_on - lag(performed_on) over (partition by client_id order by performed_on) as gap
    from session_log
)
where gap >= 14;

create table judged as
select planned.planned_id, outcome.client_id, planned.exercise_id, outcome.log_id, outcome.performed_on,
       outcome.suggested_on, planned.position, planned.session_id, planned.sets, planned.target_code, planned.rest_s,
       planned.load_code, tally.* exclude (planned_id), rounds.* exclude (planned_id),
       tally.sets_met >= planned.sets as is_met,
       case when tally.working_sets = 0 then 1
            when tally.sets_met >= planned.sets and planned.changes_rest
                and coalesce(tally.mean_rest_s > 1.25 * planned.rest_s, false) then 6
            when tally.sets_met >= planned.sets then 0
            when tally.sets_at_load < least(tally.working_sets, planned.sets) then 2
            when tally.working_sets < planned.sets then 3
            when tally.has_heavier_set then 4
            else 5 end as reason,
       not planned.is_deload and not exists (
           from comeback where comeback.client_id = outcome.client_id
               and outcome.performed_on - comeback.performed_on between 0 and 6
       ) as is_usual
from planned_exercise planned
join outcome using (session_id)
join planned_tally tally using (planned_id)
left join planned_round rounds using (planned_id)
where outcome.has_details;

create table exposure as
with numbered as (
    select *, is_usual and reason not in (1, 4) as is_on_landing,
           row_number() over (partition by client_id order by performed_on, suggested_on, position, session_id)
               as ordinal
    from judged
), marked as (
    select *, coalesce(lag(load_code) over in_time <> load_code, true) as is_new_load
    from numbered where is_on_landing
    window in_time as (partition by client_id, exercise_id order by ordinal)
), landed as (
    select planned_id, count(*) filter (is_new_load) over (partition by client_id, exercise_id order by ordinal) - 1
               as landing
    from marked
)
select numbered.*, landed.landing from numbered left join landed using (planned_id);
