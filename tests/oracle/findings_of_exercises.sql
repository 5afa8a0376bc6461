-- Findings about one exercise of a client, on every day on which it is live.
-- Kinds: 2 stall, 3 step not taken, 4 skips it, 6 no step, 8 too easy, 9 ready. Urgencies: 1 act, 2 watch, 3 good.
create table live as
select client_day.client_id, client_day.day, last_planned.exercise_id,
       exists (from pain_on_day pain join exercise_region tie using (region_code)
               where pain.client_id = client_day.client_id and pain.day = client_day.day
                   and tie.exercise_id = last_planned.exercise_id) as is_muted
from client_day
join (
    select client_id, exercise_id, max(suggested_on) as last_on
    from planned_session join planned_exercise using (session_id) group by client_id, exercise_id
) as last_planned using (client_id)
where last_planned.last_on >= client_day.day - 13;

create table met as
select live.day, live.is_muted, exposure.*,
       row_number() over (partition by live.client_id, live.exercise_id, live.day order by ordinal desc) as back
from live join exposure using (client_id, exercise_id)
where exposure.performed_on <= live.day;

-- Exposures on the present landing, the latest first.
create table present as
with landed as (
    select * replace (row_number() over newest_first as back),
           first_value(landing) over newest_first as present_landing,
           first_value(sets) over newest_first as latest_sets,
           first_value(target_code) over newest_first as latest_target,
           first_value(rest_s) over newest_first as latest_rest_s
    from met where landing is not null
    window newest_first as (partition by client_id, exercise_id, day order by ordinal desc)
)
select *, sets = latest_sets and target_code = latest_target and rest_s is not distinct from latest_rest_s
    as is_latest_stage
from landed where landing = present_landing;

create table load_before as
select client_id, exercise_id, day, arg_max(load_code, ordinal) as load_code
from met join (select client_id, exercise_id, day, any_value(present_landing) as present_landing
               from present group by all) using (client_id, exercise_id, day)
where landing = present_landing - 1
group by client_id, exercise_id, day;

create table landing_on_day as
select present.client_id, present.exercise_id, present.day, any_value(present.is_muted) as is_muted,
       coalesce(min(back) filter (present.is_met), count(*) + 1) - 1 as short_in_a_row,
       coalesce(not arg_min(present.is_met, back) filter (back > 1 and is_latest_stage), false)
           as was_short_at_stage,
       count(distinct date_trunc('week', performed_on)) filter (is_latest_stage) as weeks_at_stage,
       coalesce(min(back) filter (not present.is_met or last_reps_over < 2), count(*) + 1) - 1 as easy_in_a_row,
       any_value(before.load_code) as load_before, any_value(present.load_code) as load_now,
       count(*) filter (back <= 2 and top_load_code * 100 <= before.load_code * 101) as no_higher_in_last_two
from present left join load_before before using (client_id, exercise_id, day)
group by present.client_id, present.exercise_id, present.day;

create table found_on_landing as
with judged as (
    select *, coalesce(load_before >= 0 and load_now > load_before and no_higher_in_last_two = 2, false)
                  as is_step_not_taken,
           case when short_in_a_row >= 3 or (short_in_a_row >= 1 and was_short_at_stage) then 1
                when short_in_a_row = 2 then 2 end as stall_urgency
    from landing_on_day
), attending as (
    select client_id, day
    from session_on_day
    where status <= 4 and suggested_on between day - 55 and day
    group by client_id, day
    having count(*) filter (status <= 2) >= 0.75 * count(*)
)
select client_id, day, 2 as kind, exercise_id as subject, stall_urgency as urgency, short_in_a_row as figure
from judged where stall_urgency is not null and not is_step_not_taken and not is_muted
union all
select client_id, day, 3, exercise_id, 1, 2 from judged where is_step_not_taken
union all
select client_id, day, 6, exercise_id, 2, weeks_at_stage
from judged semi join attending using (client_id, day) where weeks_at_stage >= 3
union all
select client_id, day, 8, exercise_id, 3, 2 from judged where easy_in_a_row >= 2 and not is_muted;

create table found_of_latest as
with hurting as (
    select distinct log_id from pain_report where pain >= 1 or is_alarm
), seen as (
    select met.*, not is_met or hurting.log_id is not null or last_reps_left = 0 as is_spoilt
    from met left join hurting using (log_id)
), latest as (
    select client_id, exercise_id, day, is_muted, block_id, round, stage, stages from met where back = 1
)
select client_id, day, 4 as kind, exercise_id as subject, 2 as urgency, count(*) filter (reason = 1) as figure
from met where back <= 4
group by client_id, exercise_id, day having count(*) filter (reason = 1) >= 3
union all
select client_id, day, 9, exercise_id, 3, 1
from latest
where stage = stages - 1 and not is_muted
    and not exists (
        from seen where seen.client_id = latest.client_id and seen.exercise_id = latest.exercise_id
            and seen.day = latest.day and seen.block_id = latest.block_id and seen.round = latest.round
            and seen.stage >= latest.stages - 2 and seen.is_spoilt
    );
