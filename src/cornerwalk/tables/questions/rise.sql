-- title: Height gained with pressure, by vehicle and kit
-- answers: How far the rear rises with the air, from the line through the trials of each job.
-- column vehicle: the license plate, else the description
-- column kit: the kit's name
-- column place: rear for joined lines, LR or RR for a line to each bag
-- column jobs: jobs with a line through two trials or more
-- column rise_mm_per_kPa: mean of their slopes, the surer ones weighing more (by 1/u²)
-- column u_rise_mm_per_kPa: its standard uncertainty, enlarged where the jobs differ by more than their own u explain
-- column spread_mm_per_kPa: plain standard deviation between jobs
-- column u_spread_mm_per_kPa: its standard uncertainty
WITH slopes AS (
    SELECT vehicle, kit_name AS kit, place, c1_mm_per_kPa AS slope, 1 / u_c1_mm_per_kPa ^ 2 AS weight
    FROM lines
    JOIN sessions USING (session)
    WHERE u_c1_mm_per_kPa > 0
),
means AS (
    SELECT vehicle, kit, place, sum(slope * weight) / sum(weight) AS mean FROM slopes GROUP BY ALL
)
SELECT
    slopes.vehicle,
    slopes.kit,
    slopes.place,
    count(*) AS jobs,
    any_value(mean) AS rise_mm_per_kPa,
    sqrt(greatest(1, coalesce(sum(weight * (slope - mean) ^ 2) / nullif(count(*) - 1, 0), 1)) / sum(weight))
        AS u_rise_mm_per_kPa,
    stddev_samp(slope) AS spread_mm_per_kPa,
    stddev_samp(slope) / sqrt(2 * nullif(count(*) - 1, 0)) AS u_spread_mm_per_kPa
FROM slopes
JOIN means
    ON slopes.vehicle IS NOT DISTINCT FROM means.vehicle
    AND slopes.kit IS NOT DISTINCT FROM means.kit
    AND slopes.place = means.place
GROUP BY ALL
ORDER BY ALL
