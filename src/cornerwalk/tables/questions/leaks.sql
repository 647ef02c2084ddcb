-- title: Leak rate by kit
-- answers: How fast the lines of each kit lost air in the leak-down test, corrected for temperature.
-- column kit: the kit's name
-- column tests: leak-down tests with a rate
-- column beyond_U: of them, those that lost more than their U
-- column mean_kPa_per_h: mean loss in an hour
-- column u_mean_kPa_per_h: its standard uncertainty: what the gauges say, or the spread of the tests if that is more
-- column worst_kPa_per_h: the fastest loss
-- column u_worst_kPa_per_h: its standard uncertainty
SELECT
    kit_name AS kit,
    count(*) AS tests,
    count(*) FILTER (loss_kPa > 2 * u_loss_kPa) AS beyond_U,
    avg(rate_kPa_per_h) AS mean_kPa_per_h,
    greatest(sqrt(sum(u_rate_kPa_per_h ^ 2)) / count(*), coalesce(stddev_samp(rate_kPa_per_h), 0) / sqrt(count(*)))
        AS u_mean_kPa_per_h,
    max(rate_kPa_per_h) AS worst_kPa_per_h,
    arg_max(u_rate_kPa_per_h, rate_kPa_per_h) AS u_worst_kPa_per_h
FROM leaks
JOIN sessions USING (session)
WHERE u_rate_kPa_per_h IS NOT NULL
GROUP BY ALL
ORDER BY mean_kPa_per_h DESC, kit
