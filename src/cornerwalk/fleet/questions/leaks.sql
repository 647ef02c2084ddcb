-- title: Leak rate by kit
-- answers: How fast the lines of each kit lost air in the hold test, temperature taken out.
-- column kit: the kit's name
-- column tests: hold tests with a rate
-- column beyond_U: of them, those that lost more than their U
-- column mean_kPa_per_h: mean loss in an hour
-- column u_mean_kPa_per_h: standard uncertainty of that mean, from the spread between the tests
-- column median_kPa_per_h: half of the tests lost less
-- column worst_kPa_per_h: the fastest loss
SELECT
    kit_name AS kit,
    count(*) AS tests,
    count(*) FILTER (loss_kPa > 2 * u_loss_kPa) AS beyond_U,
    avg(rate_kPa_per_h) AS mean_kPa_per_h,
    stddev_samp(rate_kPa_per_h) / sqrt(count(*)) AS u_mean_kPa_per_h,
    median(rate_kPa_per_h) AS median_kPa_per_h,
    max(rate_kPa_per_h) AS worst_kPa_per_h
FROM leaks
JOIN sessions USING (session)
WHERE rate_kPa_per_h IS NOT NULL
GROUP BY ALL
ORDER BY mean_kPa_per_h DESC, kit
