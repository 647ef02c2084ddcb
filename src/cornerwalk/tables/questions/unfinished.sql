-- title: Unfinished jobs
-- answers: Jobs that were not handed over, the one left longest first.
-- column last_utc: when something was last recorded
-- column vehicle: the license plate, else the description
-- column technician: who read the heights
-- column kind: fit, adjust or load check
-- column stages_read: stages whose four corners are read or skipped
-- column readings: heights that count
-- column file: the session file
SELECT last_utc, vehicle, technician, job_kind AS kind, stages_read, readings, file
FROM sessions
WHERE NOT handed_over
ORDER BY last_utc, file
