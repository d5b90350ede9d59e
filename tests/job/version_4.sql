-- A job as version 4 of the schema had it, with a netlist of one wire, three readings, one superseded, two results, one
-- withdrawn, and an event.
PRAGMA application_id = 1381255729;
PRAGMA user_version = 4;
CREATE TABLE netlist (number INTEGER PRIMARY KEY, path TEXT NOT NULL, sha256 TEXT NOT NULL);
CREATE TABLE netlist_file (number INTEGER PRIMARY KEY, netlist INTEGER NOT NULL REFERENCES netlist (number),
  path TEXT NOT NULL, name TEXT NOT NULL, sha256 TEXT NOT NULL, bytes BLOB NOT NULL, UNIQUE (netlist, name));
CREATE TABLE reading (number INTEGER PRIMARY KEY, "from" TEXT NOT NULL, "to" TEXT, "value" TEXT NOT NULL,
  "time" TEXT, "by" TEXT, conditions TEXT, meter TEXT, method TEXT, witness TEXT, note TEXT,
  id TEXT NOT NULL UNIQUE);
CREATE TABLE event (number INTEGER PRIMARY KEY, "time" TEXT NOT NULL, "by" TEXT, kind TEXT NOT NULL,
  points TEXT NOT NULL, "text" TEXT, id TEXT NOT NULL UNIQUE);
CREATE TABLE meter (number INTEGER PRIMARY KEY, meter TEXT NOT NULL UNIQUE, kind TEXT, serial TEXT,
  calibrated_until TEXT, threshold TEXT, "range" TEXT, lead_ohms TEXT, accuracy TEXT);

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

CREATE TRIGGER reading_not_changed BEFORE UPDATE ON reading
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER reading_not_deleted BEFORE DELETE ON reading
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER reading_not_replaced BEFORE INSERT ON reading
  WHEN EXISTS (SELECT 1 FROM reading WHERE number = NEW.number OR id = NEW.id)
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

ALTER TABLE reading ADD COLUMN supersedes TEXT REFERENCES reading (id);
CREATE INDEX reading_supersedes ON reading (supersedes);

CREATE TABLE reading_new (number INTEGER PRIMARY KEY, "from" TEXT NOT NULL, "to" TEXT, "value" TEXT,
  "time" TEXT, "by" TEXT, conditions TEXT, meter TEXT, method TEXT, witness TEXT, note TEXT,
  id TEXT NOT NULL UNIQUE, supersedes TEXT REFERENCES reading_new (id),
  CHECK ("value" IS NOT NULL OR supersedes IS NOT NULL));
INSERT INTO reading_new (number, "from", "to", "value", "time", "by", conditions, meter, method, witness, note,
  id, supersedes)
  SELECT number, "from", "to", "value", "time", "by", conditions, meter, method, witness, note, id, supersedes
  FROM reading ORDER BY number;
DROP TABLE reading;
ALTER TABLE reading_new RENAME TO reading;
CREATE INDEX reading_supersedes ON reading (supersedes);
CREATE TRIGGER reading_not_changed BEFORE UPDATE ON reading
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER reading_not_deleted BEFORE DELETE ON reading
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER reading_not_replaced BEFORE INSERT ON reading
  WHEN EXISTS (SELECT 1 FROM reading WHERE number = NEW.number OR id = NEW.id)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;

CREATE TABLE result (number INTEGER PRIMARY KEY, channel TEXT NOT NULL, stimulus TEXT NOT NULL, "at" TEXT,
  given TEXT, expected TEXT, led TEXT, bit TEXT, "value" TEXT, only_this TEXT, verdict TEXT NOT NULL, reason TEXT,
  "time" TEXT NOT NULL, "by" TEXT NOT NULL, witness TEXT, meter TEXT, revision TEXT, id TEXT NOT NULL UNIQUE);
CREATE TRIGGER result_not_changed BEFORE UPDATE ON result
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER result_not_deleted BEFORE DELETE ON result
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER result_not_replaced BEFORE INSERT ON result
  WHEN EXISTS (SELECT 1 FROM result WHERE number = NEW.number OR id = NEW.id)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;

CREATE TABLE job (number INTEGER PRIMARY KEY, id TEXT NOT NULL);
INSERT INTO job (number, id) VALUES (1, lower(hex(randomblob(8))));
CREATE TRIGGER job_not_changed BEFORE UPDATE ON job
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER job_not_deleted BEFORE DELETE ON job
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER job_not_replaced BEFORE INSERT ON job
  WHEN EXISTS (SELECT 1 FROM job)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;

ALTER TABLE result ADD COLUMN supersedes TEXT REFERENCES result (id);
CREATE INDEX result_supersedes ON result (supersedes);
INSERT INTO netlist (path, sha256) VALUES ('GD1',
  '476ebe8a4adf4adcab3bc5afae6922c21a34748395f5709e794f35bc9b6f8f34');
INSERT INTO netlist_file (netlist, path, name, sha256, bytes) VALUES (1, 'GD1/conductors.csv', 'conductors.csv',
  '79f7fa891d8be7a776a89a1d62f95c3053ffd66ffc934d50272507bb362ec7ab',
  CAST('wire,from,to' || char(10) || '1,K1:A1,X1:5.int' || char(10) AS BLOB));
INSERT INTO reading ("from", "to", "value", id) VALUES ('K1:A1', 'X1:5.int', 'beep', 'R1');
INSERT INTO reading ("from", "to", "value", id) VALUES ('K1:A1', 'X1:5.int', 'open', 'R2');
INSERT INTO reading ("from", "to", "value", note, id, supersedes)
  VALUES ('K1:A1', 'X1:5.int', '0.4', 'read again', 'R3', 'R1');
INSERT INTO result (channel, stimulus, led, bit, only_this, verdict, "time", "by", id)
  VALUES ('K1:A1', 'operated', 'lit', '1', 'yes', 'pass', '2026-03-02T09:00:00Z', 'AK', 'I1');
INSERT INTO result (channel, stimulus, verdict, "time", "by", id)
  VALUES ('K1:A1', 'operated', 'fail', '2026-03-02T09:01:00Z', 'AK', 'I2');
INSERT INTO result (channel, stimulus, verdict, "time", "by", id, supersedes)
  VALUES ('K1:A1', 'operated', 'withdrawn', '2026-03-02T09:02:00Z', 'AK', 'I3', 'I2');
INSERT INTO event ("time", "by", kind, points, id) VALUES ('2026-03-02T09:00:00Z', 'AK', 'repair', 'K1:A1', 'E1');
PRAGMA journal_mode = WAL;
