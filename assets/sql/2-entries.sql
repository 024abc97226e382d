-- entries: each entry once. The same line lies in a depot as often as it was put: from its own device and by hand,
-- in small segments and again in that of the whole thousand. Device and number name it; where a device was cloned
-- and wrote one number twice, the hash tells the two apart, and both count.
-- A table, so that the files are read once: run this and the next file again to read them anew.
-- Lines of a newer format (v over 1) take no part. Whether a line's hash fits its bytes is `tawny check`'s to say.
CREATE OR REPLACE TABLE entries AS
SELECT
  farm, device, number, hash,
  device || '/' || CAST(number AS VARCHAR) || '/' || substr(hash, 1, 16) AS reference,
  any_value(lamport) AS lamport, any_value(observed) AS observed, any_value(recorded) AS recorded,
  any_value(who) AS who, any_value(pond) AS pond, any_value(kind) AS kind, any_value(corrects) AS corrects,
  any_value(voids) AS voids, any_value(said) AS said
FROM lines
WHERE v = 1
GROUP BY farm, device, number, hash;
