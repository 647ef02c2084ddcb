-- title: Verdicts by month, kit and technician
-- answers: How many jobs of each month ended how, worst first.
-- column month: the month in which the jobs were opened
-- column kit: the kit's name
-- column technician: who read the heights
-- column jobs: jobs opened
-- column failed: of them, those with a check that fails
-- column perhaps_failed: of the others, those with a check that fails, though within U of its limit
-- column not_checked: of the others, those with a check that could not be made
-- column passed: of the others, those whose checks all pass, within U or beyond it
SELECT
    strftime(opened_on, '%Y-%m') AS month,
    kit_name AS kit,
    technician,
    count(*) AS jobs,
    count(*) FILTER (overall = 'fail') AS failed,
    count(*) FILTER (overall = 'conditional fail') AS perhaps_failed,
    count(*) FILTER (overall = 'not checked') AS not_checked,
    count(*) FILTER (overall IN ('pass', 'conditional pass')) AS passed
FROM sessions
GROUP BY ALL
ORDER BY month DESC, failed DESC, kit, technician
