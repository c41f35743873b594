-- A part that goes in end for end may be booked twice, one end each; it is never in two tanks at once. The parts of the
-- run are locked first, so that of two who move its two ends at the same time, the second sees what the first wrote.
CREATE FUNCTION check_parts_apart(which uuid) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  PERFORM 1 FROM "part" p
    WHERE p."id" IN (SELECT "part_id" FROM "dip" WHERE "run_id" = which)
    ORDER BY p."id" FOR NO KEY UPDATE;
  IF EXISTS (
    SELECT 1 FROM "run" r
      JOIN "dip" d ON d."run_id" = r."id"
      JOIN "dip" e ON e."part_id" = d."part_id" AND e."run_id" <> r."id"
      JOIN "run" o ON o."id" = e."run_id"
     WHERE r."id" = which AND r."state" IN ('PLANNED', 'RUNNING') AND o."state" IN ('PLANNED', 'RUNNING')
       AND r."starts_at" < o."ends_at" AND o."starts_at" < r."ends_at") THEN
    RAISE EXCEPTION 'constraint "part_in_one_place": a part of this load is in another one then'
      USING ERRCODE = '23P01', CONSTRAINT = 'part_in_one_place';
  END IF;
END $$;

CREATE FUNCTION run_parts_apart() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM check_parts_apart(NEW."id");
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER "run_parts_apart" AFTER UPDATE OF "starts_at", "ends_at" ON "run"
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW
  WHEN (NEW."state" IN ('PLANNED', 'RUNNING')) EXECUTE FUNCTION run_parts_apart();

CREATE FUNCTION dip_parts_apart() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM check_parts_apart(NEW."run_id");
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER "dip_parts_apart" AFTER INSERT ON "dip"
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION dip_parts_apart();
