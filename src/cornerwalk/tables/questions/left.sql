-- title: Pressure left in the bags against the pressure recommended
-- answers: Each line of air whose last trial is not at what the trials recommend, the widest apart first.
-- column vehicle: the license plate, else the description
-- column technician: who read the heights
-- column place: the line of air
-- column left_kPa: pressure of the last trial
-- column recommended_kPa: what all trials of the job recommend
-- column over_kPa: left minus recommended
-- column handed_over: whether the vehicle went back and the job is closed
-- column file: the session file
WITH last_trials AS (
    SELECT session, place, trials.pressure_kPa AS left_kPa
    FROM trials
    JOIN stages USING (session, stage, number)
    QUALIFY row_number() OVER (PARTITION BY session, place ORDER BY position DESC) = 1
)
SELECT
    vehicle,
    technician,
    place,
    left_kPa,
    recommended_kPa,
    left_kPa - recommended_kPa AS over_kPa,
    handed_over,
    file
FROM last_trials
JOIN lines USING (session, place)
JOIN sessions USING (session)
WHERE abs(left_kPa - recommended_kPa) > 0.01
ORDER BY abs(left_kPa - recommended_kPa) DESC, file, place
