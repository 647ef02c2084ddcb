-- title: Readings written down faster than anyone walks
-- answers: Jobs with heights of two corners recorded within a second: written down later, or by a program.
-- column vehicle: the license plate, else the description
-- column technician: who read the heights
-- column readings: heights that count
-- column hurried: of them, those recorded within a second of the one before, at another corner
-- column opened_on: the day of the job
-- column file: the session file
WITH steps AS (
    SELECT
        session,
        corner <> lag(corner) OVER walk AND recorded_utc - lag(recorded_utc) OVER walk <= INTERVAL 1 SECOND AS hurried
    FROM readings
    WINDOW walk AS (PARTITION BY session ORDER BY seq)
)
SELECT
    vehicle,
    technician,
    count(*) AS readings,
    count(*) FILTER (hurried) AS hurried,
    opened_on,
    file
FROM steps
JOIN sessions USING (session)
GROUP BY ALL
HAVING count(*) FILTER (hurried) > 0
ORDER BY hurried DESC, file
