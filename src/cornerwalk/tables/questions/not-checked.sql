-- title: Checks most often not made
-- answers: What could not be checked against its limit, in how many jobs, and what was missing.
-- column check: the check, without its stage
-- column needs: what it needed
-- column jobs: jobs in which it was not made
-- column share_percent: of all jobs
SELECT
    CASE WHEN check_id LIKE 'heights-%' THEN 'heights' ELSE check_kind END AS "check",
    needs,
    count(DISTINCT session) AS jobs,
    100.0 * jobs / (SELECT count(*) FROM sessions) AS share_percent
FROM verdicts
WHERE verdict = 'not checked'
GROUP BY ALL
ORDER BY jobs DESC, "check", needs
