"""The meaning of the record: tables in, tables out, each a pandas frame for whoever asks.

Nothing here knows a database, a web page, a clock or a chart. Names follow one law:
`*_rate` is from 0 to 1 and more is better; `*_kg`, `*_g`, `*_minutes`, `*_s` are amounts; `*_trend` is a change
a week; `*_weeks` counts weeks; `*_day` is a day number (days since 1970-01-01); `find_*` returns the rows that
made something hold, with their evidence.
"""
