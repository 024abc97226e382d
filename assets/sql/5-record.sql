-- What was given, read and decided.

-- Doses that count: of two records of one dose, those that the manager's answer leaves (question_settled names the
-- second of the pair; the first is the dose of the same product that lies closest in time).
CREATE OR REPLACE VIEW doses AS
WITH told AS (
  SELECT
    farm, pond, reference, observed, lamport, device, number, who, said.product AS product,
    said.product_kg AS product_kg, said.area_ha AS area_ha, said.rate_kg_ha AS rate_kg_ha,
    said.started AS started, said.ended AS ended, said.coverage AS coverage, said.dissolved AS dissolved,
    said.sky AS sky, said.lot AS lot, coalesce(said.manager_override, FALSE) AS manager_override
  FROM standing
  WHERE kind = 'dose' AND pond IS NOT NULL AND said.product <> '' AND said.product_kg >= 0
    AND said.ended >= said.started AND said.coverage IN ('whole', 'part') AND said.dissolved IS NOT NULL
),
answers AS (
  SELECT farm, pond, said.question AS question, said.keep AS keep
  FROM standing
  WHERE kind = 'question_settled' AND said.keep IN ('first', 'second')
),
pairs AS (
  SELECT
    answers.farm, answers.keep, named.reference AS second, other.reference AS first,
    row_number() OVER (
      PARTITION BY answers.farm, named.reference
      ORDER BY
        CASE WHEN other.observed <= named.observed THEN named.observed - other.observed
             ELSE other.observed - named.observed END,
        other.observed, other.lamport, other.device, other.number
    ) AS place
  FROM answers
  JOIN told AS named ON named.farm = answers.farm AND named.pond = answers.pond
    AND named.reference = answers.question
  JOIN told AS other ON other.farm = named.farm AND other.pond = named.pond
    AND other.product = named.product AND other.reference <> named.reference
),
out AS (
  SELECT farm, CASE WHEN keep = 'first' THEN second ELSE first END AS reference
  FROM pairs
  WHERE place = 1
)
SELECT
  told.farm, told.pond, cycles.cycle, told.observed, told.who, told.product, told.product_kg,
  told.product_kg / CASE WHEN told.area_ha > 0 THEN told.area_ha ELSE ponds.nominal_area_ha END AS given_kg_ha,
  told.rate_kg_ha AS planned_kg_ha, told.started, told.ended, told.coverage, told.dissolved, told.sky, told.lot,
  told.manager_override, told.reference
FROM told
LEFT JOIN out ON out.farm = told.farm AND out.reference = told.reference
LEFT JOIN ponds ON ponds.farm = told.farm AND ponds.pond = told.pond
LEFT JOIN cycles ON cycles.farm = told.farm AND cycles.pond = told.pond
  AND told.observed >= cycles.started
  AND (cycles.next_started IS NULL OR told.observed < cycles.next_started)
WHERE out.reference IS NULL;

-- Readings of a pond by the farm's day, whatever the hour: only `tawny assess` knows the windows by the sun.
CREATE OR REPLACE VIEW readings AS
SELECT
  standing.farm, standing.pond,
  CAST(standing.observed + INTERVAL '1' MINUTE * farms.utc_offset_min AS DATE) AS day,
  count(CASE WHEN kind = 'water_reading' THEN 1 END) AS water_readings,
  count(CASE WHEN kind = 'level_reading' THEN 1 END) AS level_readings,
  count(CASE WHEN kind = 'secchi_reading' THEN 1 END) AS secchi_pairs,
  count(CASE WHEN kind NOT IN ('water_reading', 'level_reading', 'secchi_reading') THEN 1 END) AS other_looks,
  min(CASE WHEN kind = 'water_reading' THEN said.do_mg_l END) AS lowest_do_mg_l,
  max(CASE WHEN kind = 'water_reading' THEN said.do_mg_l END) AS highest_do_mg_l,
  min(CASE WHEN kind = 'water_reading' THEN said.ph END) AS lowest_ph,
  max(CASE WHEN kind = 'water_reading' THEN said.ph END) AS highest_ph,
  avg(CASE WHEN kind = 'secchi_reading' THEN (said.secchi_vanish_cm + said.secchi_return_cm) / 2 END) AS secchi_cm
FROM standing
JOIN farms ON farms.farm = standing.farm
WHERE standing.pond IS NOT NULL AND kind IN (
  'water_reading', 'level_reading', 'secchi_reading', 'water_colour', 'water_test', 'grazer_count', 'bottom_grab',
  'pest_look', 'meter_check')
GROUP BY 1, 2, 3;

-- Gates that the manager opened by hand, each with the reason given.
CREATE OR REPLACE VIEW gates_by_hand AS
SELECT
  standing.farm, standing.pond, cycles.cycle, CAST(said.stage AS INTEGER) AS stage, observed, who,
  said.reason AS reason, reference
FROM standing
JOIN cycles ON cycles.farm = standing.farm AND cycles.pond = standing.pond
  AND observed >= cycles.started AND (cycles.next_started IS NULL OR observed < cycles.next_started)
WHERE kind = 'gate_passed' AND said.stage BETWEEN 1 AND 10 AND said.reason <> '';

-- Days from the start of a cycle to the manager's last word that released the pond for stocking: a signature, or
-- the release's gate (stage 9) passed by hand. A signature that was given too early, and not taken back, stands
-- here all the same: `tawny assess` replays the gates and says so.
CREATE OR REPLACE VIEW days_to_ready AS
SELECT
  cycles.farm, cycles.pond, cycles.cycle, cycles.started, max(standing.observed) AS ready,
  date_diff('second', cycles.started, max(standing.observed)) / 86400.0 AS days
FROM cycles
JOIN standing ON standing.farm = cycles.farm AND standing.pond = cycles.pond
  AND standing.observed >= cycles.started
  AND (cycles.next_started IS NULL OR standing.observed < cycles.next_started)
WHERE standing.kind = 'release_signed'
  OR (standing.kind = 'gate_passed' AND standing.said.stage = 9 AND standing.said.reason <> '')
GROUP BY cycles.farm, cycles.pond, cycles.cycle, cycles.started;
