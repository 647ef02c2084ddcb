-- title: Technicians' repeatability
-- answers: Each technician's tape repeatability, from corners read more than once.
-- column technician: as entered, else who recorded the heights
-- column corners: corners read more than once at a stage
-- column freedom: degrees of freedom
-- column place_mm: pooled standard deviation of one reading; the u_place to use
-- column u_place_mm: its standard uncertainty
WITH corners AS (
    SELECT session, stage, number, corner, count(*) - 1 AS freedom, var_samp(height_mm) AS variance
    FROM readings
    GROUP BY ALL
    HAVING count(*) > 1
)
SELECT
    technician,
    count(*) AS corners,
    sum(freedom)::BIGINT AS freedom,
    sqrt(sum(corners.freedom * variance) / sum(corners.freedom)) AS place_mm,
    place_mm / sqrt(2 * sum(corners.freedom)) AS u_place_mm
FROM corners
JOIN sessions USING (session)
GROUP BY technician
ORDER BY place_mm, technician
