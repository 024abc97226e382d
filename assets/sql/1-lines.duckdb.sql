-- The lines of depots, as DuckDB reads them. The one file here that is DuckDB's own: in another engine, declare a
-- table `lines` of the same columns over the same JSON lines (one object a line, keys that are not named passed
-- over); the views of the other files stand on that.
--
--   SET VARIABLE depots = 'DIR/*/*/*/*/*.jsonl';   farm / writer / device / thousand / segment
--
-- Keys and units: core/logbook/kinds.h. A kind's values that nothing here asks for are left out.
CREATE OR REPLACE VIEW lines AS
SELECT
  v, farm, device, number, lamport, observed, recorded, who, pond, kind, corrects, voids, hash,
  "values" AS said
FROM read_json(
  getvariable('depots'),
  format = 'newline_delimited',
  maximum_object_size = 131072,
  columns = {
    v: 'INTEGER', farm: 'VARCHAR', device: 'VARCHAR', number: 'BIGINT', lamport: 'BIGINT',
    observed: 'TIMESTAMP', recorded: 'TIMESTAMP', who: 'VARCHAR', pond: 'VARCHAR', kind: 'VARCHAR',
    corrects: 'VARCHAR', voids: 'VARCHAR', hash: 'VARCHAR',
    "values": 'STRUCT(
      name VARCHAR, utc_offset_min DOUBLE, latitude_deg DOUBLE, longitude_deg DOUBLE,
      walk_order DOUBLE, build VARCHAR, nominal_area_ha DOUBLE,
      cycle VARCHAR, stage DOUBLE, reason VARCHAR, decision VARCHAR, question VARCHAR, keep VARCHAR,
      do_mg_l DOUBLE, ph DOUBLE, temperature_c DOUBLE, salinity DOUBLE, level_cm DOUBLE,
      secchi_vanish_cm DOUBLE, secchi_return_cm DOUBLE, seen_on_bottom BOOLEAN, depth_at_disc_cm DOUBLE,
      colour VARCHAR, sky VARCHAR, tan_mg_l DOUBLE, alkalinity_mg_l DOUBLE, copepods_per_l DOUBLE,
      grabs DOUBLE, grabs_with_animals DOUBLE, bivalves VARCHAR, predators VARCHAR,
      product VARCHAR, product_kg DOUBLE, rate_kg_ha DOUBLE, area_ha DOUBLE, started VARCHAR, ended VARCHAR,
      coverage VARCHAR, dissolved BOOLEAN, lot VARCHAR, manager_override BOOLEAN)'
  }
);
