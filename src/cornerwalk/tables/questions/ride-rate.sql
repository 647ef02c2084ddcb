-- title: Ride rate by vehicle
-- answers: How stiff the rear of each vehicle is, from what its load put on the axle and how far that dropped it.
-- column vehicle: the license plate, else the description
-- column jobs: jobs with a ride rate
-- column rate_N_per_mm: mean, the surer ones weighing more (by 1/u²); an estimate, with friction and bump stops in it
-- column u_rate_N_per_mm: its standard uncertainty, enlarged where the jobs differ by more than their own u explain
-- column spread_N_per_mm: plain standard deviation between jobs
-- column u_spread_N_per_mm: its standard uncertainty
WITH rates AS (
    SELECT vehicle, ride_rate_N_per_mm AS rate, 1 / u_ride_rate_N_per_mm ^ 2 AS weight
    FROM sessions
    WHERE u_ride_rate_N_per_mm > 0
),
means AS (
    SELECT vehicle, sum(rate * weight) / sum(weight) AS mean FROM rates GROUP BY ALL
)
SELECT
    rates.vehicle,
    count(*) AS jobs,
    any_value(mean) AS rate_N_per_mm,
    sqrt(greatest(1, coalesce(sum(weight * (rate - mean) ^ 2) / nullif(count(*) - 1, 0), 1)) / sum(weight))
        AS u_rate_N_per_mm,
    stddev_samp(rate) AS spread_N_per_mm,
    stddev_samp(rate) / sqrt(2 * nullif(count(*) - 1, 0)) AS u_spread_N_per_mm
FROM rates
JOIN means ON rates.vehicle IS NOT DISTINCT FROM means.vehicle
GROUP BY ALL
ORDER BY ALL
