-- farms, ponds, cycles: by the latest set-up that says what is needed.
CREATE OR REPLACE VIEW farms AS
SELECT farm, name, utc_offset_min, latitude_deg, longitude_deg
FROM (
  SELECT
    farm, said.name, said.utc_offset_min, said.latitude_deg, said.longitude_deg,
    row_number() OVER (PARTITION BY farm ORDER BY observed DESC, lamport DESC, device DESC, number DESC) AS place
  FROM standing
  WHERE kind = 'farm_setup' AND said.name IS NOT NULL AND said.utc_offset_min IS NOT NULL
) AS setups
WHERE place = 1;

CREATE OR REPLACE VIEW ponds AS
SELECT farm, pond, name, walk_order, build, nominal_area_ha
FROM (
  SELECT
    farm, pond, said.name, said.walk_order, said.build, said.nominal_area_ha,
    row_number() OVER (
      PARTITION BY farm, pond ORDER BY observed DESC, lamport DESC, device DESC, number DESC
    ) AS place
  FROM standing
  WHERE kind = 'pond_setup' AND pond IS NOT NULL AND said.name IS NOT NULL AND said.nominal_area_ha IS NOT NULL
) AS setups
WHERE place = 1;

-- A cycle runs until the pond's next one starts; `ended` is when somebody ended it. One that two phones started
-- under one label, with no end between, was started once, by the first.
CREATE OR REPLACE VIEW cycles AS
WITH told AS (
  SELECT
    farm, pond, kind, observed, lamport, device, number, said.cycle AS cycle,
    lag(said.cycle) OVER (PARTITION BY farm, pond ORDER BY observed, lamport, device, number) AS running
  FROM standing
  WHERE pond IS NOT NULL AND ((kind = 'cycle_start' AND said.cycle <> '') OR kind = 'cycle_end')
),
starts AS (
  SELECT
    farm, pond, cycle, observed AS started,
    lead(observed) OVER (PARTITION BY farm, pond ORDER BY observed, lamport, device, number) AS next_started
  FROM told
  WHERE kind = 'cycle_start' AND (running IS NULL OR running <> cycle)
)
SELECT starts.farm, starts.pond, starts.cycle, starts.started, starts.next_started, min(ends.observed) AS ended
FROM starts
LEFT JOIN told AS ends ON ends.farm = starts.farm AND ends.pond = starts.pond AND ends.kind = 'cycle_end'
  AND ends.observed >= starts.started
  AND (starts.next_started IS NULL OR ends.observed < starts.next_started)
GROUP BY starts.farm, starts.pond, starts.cycle, starts.started, starts.next_started;
