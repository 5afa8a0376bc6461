-- What every working set counts for, what was asked of it, and the grams moved in it.
create table planned_row as
select *, sum(sets) over earlier - sets as sets_before, count(*) over following = 1 as is_last
from planned_exercise
window earlier as (partition by session_id, exercise_id order by position),
       following as (partition by session_id, exercise_id order by position desc);

-- Of an exercise that is not planned in a session: the client's latest planned row of it.
create table latest_planned as
select session.client_id, planned.exercise_id, planned.implements, planned.sides
from planned_exercise planned join planned_session session using (session_id)
qualify row_number() over (
    partition by session.client_id, planned.exercise_id
    order by session.suggested_on desc, planned.position desc, planned.session_id desc
) = 1;

create table working_set as
with ranked as (
    select set_log.*, log.client_id, link.session_id, link.standing,
           row_number() over (partition by set_log.log_id, set_log.asked_id order by set_log.number, set_log.position)
               as nth
    from set_log join session_log log using (log_id) join link using (log_id)
    where set_log.reps >= 1 and not set_log.is_warm_up
)
select ranked.log_id, ranked.asked_id, ranked.nth, ranked.standing, planned.planned_id, ranked.reps, ranked.load_code,
       ranked.load_g, ranked.rest_s, ranked.reps_left, ranked.exercise_id <> ranked.asked_id as is_swapped,
       coalesce(target.reps, planned.reps) as target_reps,
       ranked.reps * coalesce(ranked.load_g, 0)
           * coalesce(planned.implements, latest.implements, exercise.implements, 1)
           * coalesce(planned.sides, latest.sides, exercise.sides, 1) as tonnage_g,
       ranked.reps * coalesce(planned.sides, latest.sides, exercise.sides, 1)
           * round_even(coalesce(ranked.body_g, 0), 0)::bigint as body_tonnage_g
from ranked
left join planned_row planned
    on planned.session_id = ranked.session_id and planned.exercise_id = ranked.asked_id
    and ranked.nth > planned.sets_before and (planned.is_last or ranked.nth <= planned.sets_before + planned.sets)
left join set_target target
    on target.planned_id = planned.planned_id
    and target.number = least(ranked.nth - planned.sets_before, planned.sets)
left join latest_planned latest on latest.client_id = ranked.client_id and latest.exercise_id = ranked.asked_id
left join exercise on exercise.exercise_id = ranked.asked_id;
