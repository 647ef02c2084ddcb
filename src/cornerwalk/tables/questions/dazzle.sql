-- title: Vehicles that still blind oncoming drivers after installation
-- answers: The last job of each vehicle whose low beam aims above level or above the aim spec with air in.
-- column vehicle: the license plate, else the description
-- column technician: who read the heights
-- column stage: the last stage read
-- column pressure_kPa: pressure at it, in joined lines
-- column aim_deg: low-beam aim against level, from the wall mark where there is one
-- column u_aim_deg: its standard uncertainty
-- column verdict: the worse of the verdicts on the beam; conditional fail: above, but only within U
-- column file: the session file
WITH last_jobs AS (
    SELECT * FROM sessions
    QUALIFY row_number() OVER (PARTITION BY coalesce(vehicle, session) ORDER BY opened_utc DESC, session) = 1
),
beams AS (
    SELECT session, stage, number, max(verdict) AS verdict  -- 'fail' comes after 'conditional fail'
    FROM verdicts
    WHERE check_id IN ('beam-below-level', 'beam-within-rule-upper')
      AND verdict IN ('conditional fail', 'fail')
      AND stage IN ('fitted', 'road-test', 'follow-up')
    GROUP BY ALL
)
SELECT
    vehicle,
    technician,
    stage || ' ' || number AS stage,
    stages.pressure_kPa,
    coalesce(lamp_measured_aim_deg, lamp_aim_deg) AS aim_deg,
    CASE WHEN lamp_measured_aim_deg IS NULL THEN u_lamp_aim_deg ELSE u_lamp_measured_aim_deg END AS u_aim_deg,
    verdict,
    file
FROM last_jobs
JOIN beams USING (session)
JOIN stages USING (session, stage, number)
ORDER BY aim_deg DESC, vehicle, file
