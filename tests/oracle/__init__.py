"""The same tables by another engine: SQL over the rows of the record, run by DuckDB, sharing nothing with analytics.

The rules are written as the specification words them and are asked day by day. Not here: the words of a finding, and a
coach's close of a finding of pain, which is an act and no calculation.
"""
