-- standing: the current truth. What was taken back is out, and a correction stands in place of what it corrects
-- (core/logbook/FORMAT.md, "Corrections and voids").
--
-- An entry, its corrections and theirs are a tree; of what nobody took back in it, the latest by (lamport, device,
-- number, hash) stands. Taking back counts only while it stands itself, so the question is asked five times over:
-- right for chains of up to four (a void of a void of a void of a void).
CREATE OR REPLACE TABLE standing AS
WITH RECURSIVE
climb AS (
  SELECT farm, reference, corrects AS above, 1 AS steps
  FROM entries
  WHERE corrects IS NOT NULL
  UNION ALL
  SELECT climb.farm, climb.reference, entries.corrects AS above, climb.steps + 1 AS steps
  FROM climb
  JOIN entries ON entries.farm = climb.farm AND entries.reference = climb.above
  WHERE entries.corrects IS NOT NULL AND climb.steps < 100
),
roots AS (
  SELECT farm, reference, above AS root
  FROM (
    SELECT *, row_number() OVER (PARTITION BY farm, reference ORDER BY steps DESC) AS place
    FROM climb
  ) AS climbed
  WHERE place = 1
),
-- Those that point at another, and those that are pointed at: all others simply stand.
named AS (
  SELECT farm, reference FROM entries WHERE corrects IS NOT NULL OR voids IS NOT NULL
  UNION
  SELECT farm, corrects AS reference FROM entries WHERE corrects IS NOT NULL
  UNION
  SELECT farm, voids AS reference FROM entries WHERE voids IS NOT NULL
),
touched AS (
  SELECT
    entries.farm, entries.reference, entries.voids, coalesce(roots.root, entries.reference) AS root,
    row_number() OVER (
      PARTITION BY entries.farm
      ORDER BY entries.lamport, entries.device, entries.number, entries.hash
    ) AS rank_in_time
  FROM entries
  JOIN named ON named.farm = entries.farm AND named.reference = entries.reference
  LEFT JOIN roots ON roots.farm = entries.farm AND roots.reference = entries.reference
),
best0 AS (
  SELECT farm, root, max(rank_in_time) AS best FROM touched GROUP BY farm, root
),
back0 AS (
  SELECT DISTINCT touched.farm, touched.voids AS reference
  FROM touched JOIN best0 ON best0.farm = touched.farm AND best0.best = touched.rank_in_time
  WHERE touched.voids IS NOT NULL
),
best1 AS (
  SELECT touched.farm, touched.root, max(touched.rank_in_time) AS best
  FROM touched
  LEFT JOIN back0 ON back0.farm = touched.farm AND back0.reference = touched.reference
  WHERE back0.reference IS NULL
  GROUP BY touched.farm, touched.root
),
back1 AS (
  SELECT DISTINCT touched.farm, touched.voids AS reference
  FROM touched JOIN best1 ON best1.farm = touched.farm AND best1.best = touched.rank_in_time
  WHERE touched.voids IS NOT NULL
),
best2 AS (
  SELECT touched.farm, touched.root, max(touched.rank_in_time) AS best
  FROM touched
  LEFT JOIN back1 ON back1.farm = touched.farm AND back1.reference = touched.reference
  WHERE back1.reference IS NULL
  GROUP BY touched.farm, touched.root
),
back2 AS (
  SELECT DISTINCT touched.farm, touched.voids AS reference
  FROM touched JOIN best2 ON best2.farm = touched.farm AND best2.best = touched.rank_in_time
  WHERE touched.voids IS NOT NULL
),
best3 AS (
  SELECT touched.farm, touched.root, max(touched.rank_in_time) AS best
  FROM touched
  LEFT JOIN back2 ON back2.farm = touched.farm AND back2.reference = touched.reference
  WHERE back2.reference IS NULL
  GROUP BY touched.farm, touched.root
),
back3 AS (
  SELECT DISTINCT touched.farm, touched.voids AS reference
  FROM touched JOIN best3 ON best3.farm = touched.farm AND best3.best = touched.rank_in_time
  WHERE touched.voids IS NOT NULL
),
best4 AS (
  SELECT touched.farm, touched.root, max(touched.rank_in_time) AS best
  FROM touched
  LEFT JOIN back3 ON back3.farm = touched.farm AND back3.reference = touched.reference
  WHERE back3.reference IS NULL
  GROUP BY touched.farm, touched.root
),
fallen AS (
  SELECT touched.farm, touched.reference
  FROM touched
  LEFT JOIN best4 ON best4.farm = touched.farm AND best4.best = touched.rank_in_time
  WHERE best4.best IS NULL
)
SELECT entries.*
FROM entries
LEFT JOIN fallen ON fallen.farm = entries.farm AND fallen.reference = entries.reference
WHERE fallen.reference IS NULL AND entries.voids IS NULL AND entries.kind <> 'void';
