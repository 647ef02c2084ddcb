-- title: Jobs over a rating
-- answers: Axles, vehicles, tires, hitches and kits loaded over their rating. Helper springs raise none of them.
-- column vehicle: the license plate, else the description
-- column technician: who read the heights
-- column rating: what was compared with its rating
-- column load_N: the load
-- column rating_N: the rating
-- column u_load_N: standard uncertainty of the load
-- column verdict: conditional fail: over it, but only within U
-- column file: the session file
SELECT
    vehicle,
    technician,
    check_kind AS rating,
    value AS load_N,
    limit_value AS rating_N,
    U / 2 AS u_load_N,
    verdict,
    file
FROM verdicts
JOIN sessions USING (session)
WHERE (check_id LIKE '%-rating' OR check_id = 'rated-support')
  AND verdict IN ('conditional fail', 'fail')
ORDER BY load_N / rating_N DESC, file, rating
