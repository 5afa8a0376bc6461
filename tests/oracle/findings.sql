-- What holds on each client's own day, since the first day from which it has held on every day.
create table found as
select *, if(kind in (2, 3, 4, 6, 8, 9), subject, -1) as episode
from (from found_pain union all from found_turnout union all from found_cut_short union all from found_plan_runs_out
      union all from found_check_in_due
      union all from found_on_landing union all from found_of_latest);

create table finding as
with runs as (
    select *, day - (row_number() over (partition by client_id, kind, episode order by day))::int as run from found
), opened as (
    select *, min(day) over (partition by client_id, kind, episode, run) as opened_on from runs
)
select opened.client_id, kind, subject, urgency, figure as count, opened_on - date '1970-01-01' as opened_day
from opened join client on client.client_id = opened.client_id and client.as_of = opened.day;
