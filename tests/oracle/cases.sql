-- Every client on every day up to theirs: each finding is asked for day by day, and nothing is carried over.
create table client_day as
select client_id, is_active, minutes as has_minutes, first_day::date as day,
       exists (from pause where pause.client_id = client.client_id
                   and first_day::date between pause.from_on and pause.until_on) as is_paused
from client
join (
    select client_id, min(day) - 1 as since
    from (select client_id, suggested_on as day from planned_session
          union all select client_id, performed_on from session_log
          union all select client_id, begins_on - 3 from check_in_plan)
    group by client_id
) as known using (client_id)
cross join unnest(generate_series(known.since, client.as_of, interval 1 day)) as days(first_day);

create table session_on_day as
select client_day.day, outcome.session_id, outcome.client_id, outcome.suggested_on,
       status_at(performed_on, has_details, log_completion, is_excused, sent_by, suggested_on, sends_each, day)
           as status
from client_day join outcome using (client_id);

create table log_on_day as
select client_day.client_id, client_day.day, max(log.performed_on) as last_log_on
from client_day join session_log log on log.client_id = client_day.client_id and log.performed_on <= client_day.day
group by client_day.client_id, client_day.day;

-- The reports of pain from the latest back, with how many there are before the first that is calm.
create table pain_on_day as
with told as (
    select client_day.client_id, client_day.day, report.*exclude (client_id),
           row_number() over (partition by client_day.client_id, client_day.day
                              order by report.reported_on desc, report.nth desc) as back,
           report.pain > 2 or report.is_alarm as is_open
    from client_day join pain_report report
        on report.client_id = client_day.client_id and report.reported_on <= client_day.day
), counted as (
    select *, coalesce(min(back) filter (not is_open) over (partition by client_id, day),
                       count(*) over (partition by client_id, day) + 1) - 1 as open_reports
    from told
), judged as (
    select client_id, day, open_reports, if(open_reports > 0, open_reports, 3) as reports,
           bool_or(pain > 5 or is_alarm) filter (back <= open_reports) as is_high,
           count(*) filter (back <= 3 and pain >= 1) as lasting,
           arg_min(region_code, back) filter (back <= if(open_reports > 0, open_reports, 3)
                                              and region_code is not null) as region_code
    from counted group by all
)
select client_id, day, reports, coalesce(region_code, -1) as region_code,
       case when is_high then 0 when open_reports >= 2 then 1 when open_reports = 1 or lasting = 3 then 2 end as urgency
from judged
where open_reports > 0 or lasting = 3;
