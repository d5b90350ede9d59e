-- A job as version 6 of the schema had it: that of version 4 as it was brought to it, with a decision.
PRAGMA application_id = 1381255729;
PRAGMA user_version = 6;
PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE netlist (number INTEGER PRIMARY KEY, path TEXT NOT NULL, sha256 TEXT NOT NULL, as_built INTEGER NOT NULL DEFAULT 0);
INSERT INTO netlist VALUES(1,'GD1','476ebe8a4adf4adcab3bc5afae6922c21a34748395f5709e794f35bc9b6f8f34',0);
CREATE TABLE netlist_file (number INTEGER PRIMARY KEY, netlist INTEGER NOT NULL REFERENCES netlist (number),
  path TEXT NOT NULL, name TEXT NOT NULL, sha256 TEXT NOT NULL, bytes BLOB NOT NULL, UNIQUE (netlist, name));
INSERT INTO netlist_file VALUES(1,1,'GD1/conductors.csv','conductors.csv','79f7fa891d8be7a776a89a1d62f95c3053ffd66ffc934d50272507bb362ec7ab',X'776972652c66726f6d2c746f0a312c4b313a41312c58313a352e696e740a');
CREATE TABLE event (number INTEGER PRIMARY KEY, "time" TEXT NOT NULL, "by" TEXT, kind TEXT NOT NULL,
  points TEXT NOT NULL, "text" TEXT, id TEXT NOT NULL UNIQUE, netlist INTEGER REFERENCES netlist (number));
INSERT INTO event VALUES(1,'2026-03-02T09:00:00Z','AK','repair','K1:A1',NULL,'E1',NULL);
CREATE TABLE meter (number INTEGER PRIMARY KEY, meter TEXT NOT NULL UNIQUE, kind TEXT, serial TEXT,
  calibrated_until TEXT, threshold TEXT, "range" TEXT, lead_ohms TEXT, accuracy TEXT);
CREATE TABLE IF NOT EXISTS "reading" (number INTEGER PRIMARY KEY, "from" TEXT NOT NULL, "to" TEXT, "value" TEXT,
  "time" TEXT, "by" TEXT, conditions TEXT, meter TEXT, method TEXT, witness TEXT, note TEXT,
  id TEXT NOT NULL UNIQUE, supersedes TEXT REFERENCES "reading" (id), netlist INTEGER REFERENCES netlist (number),
  CHECK ("value" IS NOT NULL OR supersedes IS NOT NULL));
INSERT INTO reading VALUES(1,'K1:A1','X1:5.int','beep',NULL,NULL,NULL,NULL,NULL,NULL,NULL,'R1',NULL,NULL);
INSERT INTO reading VALUES(2,'K1:A1','X1:5.int','open',NULL,NULL,NULL,NULL,NULL,NULL,NULL,'R2',NULL,NULL);
INSERT INTO reading VALUES(3,'K1:A1','X1:5.int','0.4',NULL,NULL,NULL,NULL,NULL,NULL,'read again','R3','R1',NULL);
CREATE TABLE result (number INTEGER PRIMARY KEY, channel TEXT NOT NULL, stimulus TEXT NOT NULL, "at" TEXT,
  given TEXT, expected TEXT, led TEXT, bit TEXT, "value" TEXT, only_this TEXT, verdict TEXT NOT NULL, reason TEXT,
  "time" TEXT NOT NULL, "by" TEXT NOT NULL, witness TEXT, meter TEXT, revision TEXT, id TEXT NOT NULL UNIQUE, supersedes TEXT REFERENCES result (id), netlist INTEGER REFERENCES netlist (number));
INSERT INTO result VALUES(1,'K1:A1','operated',NULL,NULL,NULL,'lit','1',NULL,'yes','pass',NULL,'2026-03-02T09:00:00Z','AK',NULL,NULL,NULL,'I1',NULL,NULL);
INSERT INTO result VALUES(2,'K1:A1','operated',NULL,NULL,NULL,NULL,NULL,NULL,NULL,'fail',NULL,'2026-03-02T09:01:00Z','AK',NULL,NULL,NULL,'I2',NULL,NULL);
INSERT INTO result VALUES(3,'K1:A1','operated',NULL,NULL,NULL,NULL,NULL,NULL,NULL,'withdrawn',NULL,'2026-03-02T09:02:00Z','AK',NULL,NULL,NULL,'I3','I2',NULL);
CREATE TABLE job (number INTEGER PRIMARY KEY, id TEXT NOT NULL);
INSERT INTO job VALUES(1,'327ace8347760814');
CREATE TABLE decision (number INTEGER PRIMARY KEY, finding TEXT NOT NULL, readings TEXT, points TEXT,
  decision TEXT NOT NULL, "text" TEXT, "time" TEXT NOT NULL, "by" TEXT NOT NULL, revision TEXT,
  id TEXT NOT NULL UNIQUE);
INSERT INTO decision VALUES(1,'open wire 1',NULL,NULL,'repair',NULL,'2026-03-02T09:05:00Z','AK',NULL,'D1');
CREATE TRIGGER netlist_not_changed BEFORE UPDATE ON netlist
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER netlist_not_deleted BEFORE DELETE ON netlist
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER netlist_not_replaced BEFORE INSERT ON netlist
  WHEN EXISTS (SELECT 1 FROM netlist WHERE number = NEW.number)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;
CREATE TRIGGER netlist_file_not_changed BEFORE UPDATE ON netlist_file
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER netlist_file_not_deleted BEFORE DELETE ON netlist_file
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER netlist_file_not_replaced BEFORE INSERT ON netlist_file
  WHEN EXISTS (SELECT 1 FROM netlist_file
               WHERE number = NEW.number OR (netlist = NEW.netlist AND name = NEW.name))
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;
CREATE TRIGGER event_not_changed BEFORE UPDATE ON event
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER event_not_deleted BEFORE DELETE ON event
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER event_not_replaced BEFORE INSERT ON event
  WHEN EXISTS (SELECT 1 FROM event WHERE number = NEW.number OR id = NEW.id)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;
CREATE TRIGGER meter_not_changed BEFORE UPDATE ON meter
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER meter_not_deleted BEFORE DELETE ON meter
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER meter_not_replaced BEFORE INSERT ON meter
  WHEN EXISTS (SELECT 1 FROM meter WHERE number = NEW.number OR meter = NEW.meter)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;
CREATE INDEX reading_supersedes ON reading (supersedes);
CREATE TRIGGER reading_not_changed BEFORE UPDATE ON reading
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER reading_not_deleted BEFORE DELETE ON reading
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER reading_not_replaced BEFORE INSERT ON reading
  WHEN EXISTS (SELECT 1 FROM reading WHERE number = NEW.number OR id = NEW.id)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;
CREATE TRIGGER result_not_changed BEFORE UPDATE ON result
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER result_not_deleted BEFORE DELETE ON result
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER result_not_replaced BEFORE INSERT ON result
  WHEN EXISTS (SELECT 1 FROM result WHERE number = NEW.number OR id = NEW.id)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;
CREATE TRIGGER job_not_changed BEFORE UPDATE ON job
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER job_not_deleted BEFORE DELETE ON job
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER job_not_replaced BEFORE INSERT ON job
  WHEN EXISTS (SELECT 1 FROM job)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;
CREATE INDEX result_supersedes ON result (supersedes);
CREATE TRIGGER decision_not_changed BEFORE UPDATE ON decision
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER decision_not_deleted BEFORE DELETE ON decision
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER decision_not_replaced BEFORE INSERT ON decision
  WHEN EXISTS (SELECT 1 FROM decision WHERE number = NEW.number OR id = NEW.id)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;
COMMIT;
PRAGMA journal_mode = WAL;
