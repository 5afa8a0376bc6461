"""Rows of a file of logs for tests."""

HEADER = (
    "client,performed_on,block,week,session,exercise,set,reps,load,unit,rest_s,warm_up,minutes,rpe,pain,pain_region,"
    "note,submission\n"
)
FIRST = "bo,2026-04-13,Base,1,A,Goblet squat,1,8,20,kg,70,no,31.5,7,1,left knee,felt fine,\n"
SECOND = "bo,2026-04-13,Base,1,A,Goblet squat,2,6,20,kg,80,no,,,,,,\n"
TOLD = "bo,2026-04-14,,,,,,,,,,,,,,,,\n"
LOOSE = "bo,2026-04-14,,,,Row,,8,20,,,,,,,,,\n"
ONE_UUID = "7f1de6a0-38a6-4d0c-9f9c-5d1f0f6d2b11"
