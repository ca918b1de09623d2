PRAGMA application_id = 1197762414;
PRAGMA user_version = 2;
BEGIN TRANSACTION;
CREATE TABLE answer (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), question TEXT NOT NULL, stamp TEXT NOT NULL,
        headline TEXT NOT NULL, told TEXT NOT NULL, design TEXT NOT NULL
    );
INSERT INTO "answer" VALUES(19,'check','0123abcd','Sinks, <b>slowly</b>.','{"warnings": [["watch", "it may float & it may sink"]], "sections": [{"title": "In the water", "rows": [{"name": "whole.excess", "label": "heavy in water by", "value": 0.31, "unit": "g", "low": 0.1, "high": 0.5, "shown": "0.3 ± 0.2 g"}, {"name": "whole.class", "label": "trade word", "value": "=slow sinker", "unit": "", "low": null, "high": null, "shown": "=slow sinker"}]}]}','# another text');
CREATE TABLE attitude (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), pitch REAL NOT NULL, pitch_spread REAL, leans REAL,
        leans_spread REAL, state TEXT NOT NULL, fitted TEXT, temperature REAL, temperature_spread REAL,
        salinity REAL, salinity_spread REAL, CHECK (typeof(pitch) IN ('real', 'null') AND (pitch_spread IS NULL OR pitch_spread >= 0))
    );
INSERT INTO "attitude" VALUES(14,-0.0872664625997165,NULL,0.02,NULL,'afloat',NULL,NULL,NULL,NULL,NULL);
CREATE TABLE ballast (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), hole TEXT NOT NULL, mass REAL NOT NULL, mass_spread REAL,
        station REAL, depth REAL, bore REAL, material TEXT NOT NULL, CHECK (typeof(mass) IN ('real', 'null') AND (mass_spread IS NULL OR mass_spread >= 0))
    );
INSERT INTO "ballast" VALUES(11,'belly',0.0057,NULL,0.025,0.012,0.008,'lead');
CREATE TABLE board (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), name TEXT NOT NULL, wood TEXT NOT NULL,
        density REAL, density_spread REAL, moisture REAL, moisture_spread REAL,
        length REAL, width REAL, thickness REAL, mass REAL, mass_spread REAL,
        CHECK (typeof(density) IN ('real', 'null') AND (density_spread IS NULL OR density_spread >= 0)), CHECK (typeof(mass) IN ('real', 'null') AND (mass_spread IS NULL OR mass_spread >= 0))
    );
INSERT INTO "board" VALUES(1,'B7 ''knotty''','basswood',402.0,8.0,0.09,NULL,0.9,0.14,0.025,1.21,NULL);
CREATE TABLE change (entry INTEGER PRIMARY KEY REFERENCES entry (id), what TEXT NOT NULL, why TEXT NOT NULL);
INSERT INTO "change" VALUES(16,'tow eye bent 0.3 mm to the right','ran left');
CREATE TABLE entry (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        kind TEXT NOT NULL,
        lure INTEGER REFERENCES entry (id),      -- first entry of the lure it is about
        stage INTEGER REFERENCES stage (step),
        done TEXT NOT NULL,                      -- when it was done, ISO 8601
        made TEXT NOT NULL,                      -- when it was entered
        remark TEXT NOT NULL DEFAULT '',
        corrects INTEGER UNIQUE REFERENCES entry (id),
        root INTEGER REFERENCES entry (id),      -- first entry of its chain of corrections
        void INTEGER NOT NULL DEFAULT 0 CHECK (void IN (0, 1)),
        CHECK ((corrects IS NULL) = (root IS NULL)),
        CHECK (void = 0 OR corrects IS NOT NULL)
    );
INSERT INTO "entry" VALUES(1,'board',NULL,NULL,'2026-05-03T10:00:00+02:00','2026-05-03T10:00:00+02:00','from the barn',NULL,NULL,0);
INSERT INTO "entry" VALUES(2,'stock',NULL,NULL,'2026-05-03T10:01:00+02:00','2026-05-03T10:01:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(3,'stock',NULL,NULL,'2026-05-03T10:02:00+02:00','2026-05-03T10:02:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(4,'pattern',NULL,NULL,'2026-05-03T10:03:00+02:00','2026-05-03T10:03:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(5,'lure',NULL,NULL,'2026-05-03T10:04:00+02:00','2026-05-03T10:04:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(6,'lure',NULL,NULL,'2026-05-03T10:05:00+02:00','2026-05-03T10:05:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(7,'weighing',5,30,'2026-05-02','2026-05-03T10:06:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(8,'weighing',5,30,'2026-05-02','2026-05-03T10:07:00+02:00','read 1 for 4',7,7,0);
INSERT INTO "entry" VALUES(9,'weighing',5,60,'2026-05-03T10:08:00+02:00','2026-05-03T10:08:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(10,'jug',5,50,'2026-05-03T10:09:00+02:00','2026-05-03T10:09:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(11,'ballast',5,NULL,'2026-05-03T10:10:00+02:00','2026-05-03T10:10:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(12,'fitting',5,NULL,'2026-05-03T10:11:00+02:00','2026-05-03T10:11:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(13,'timed_drop',5,100,'2026-05-03T10:12:00+02:00','2026-05-03T10:12:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(14,'attitude',5,100,'2026-05-03T10:13:00+02:00','2026-05-03T10:13:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(15,'tow_test',5,NULL,'2026-05-03T10:14:00+02:00','2026-05-03T10:14:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(16,'change',5,NULL,'2026-05-03T10:15:00+02:00','2026-05-03T10:15:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(17,'note',6,NULL,'2026-05-03T10:16:00+02:00','2026-05-03T10:16:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(18,'note',6,NULL,'2026-05-03T10:17:00+02:00','2026-05-03T10:17:00+02:00','it was number 1',17,17,1);
INSERT INTO "entry" VALUES(19,'answer',5,NULL,'2026-05-03T10:18:00+02:00','2026-05-03T10:18:00+02:00','',NULL,NULL,0);
INSERT INTO "entry" VALUES(20,'photo',6,NULL,'2026-05-03T10:19:00+02:00','2026-05-03T10:19:00+02:00','',NULL,NULL,0);
CREATE TABLE fitting (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), part TEXT NOT NULL, mass REAL NOT NULL, mass_spread REAL,
        CHECK (typeof(mass) IN ('real', 'null') AND (mass_spread IS NULL OR mass_spread >= 0))
    );
INSERT INTO "fitting" VALUES(12,'belly hook',0.00102,NULL);
CREATE TABLE jug (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), displaced REAL NOT NULL, displaced_spread REAL,
        piece TEXT NOT NULL, fitted TEXT, temperature REAL, temperature_spread REAL, salinity REAL,
        salinity_spread REAL, CHECK (typeof(displaced) IN ('real', 'null') AND (displaced_spread IS NULL OR displaced_spread >= 0))
    );
INSERT INTO "jug" VALUES(10,0.0228,NULL,'whole',NULL,291.15,NULL,0.0,NULL);
CREATE TABLE lure (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), number INTEGER NOT NULL CHECK (number > 0),
        pattern INTEGER NOT NULL REFERENCES entry (id), run INTEGER NOT NULL, board INTEGER REFERENCES entry (id)
    );
INSERT INTO "lure" VALUES(5,1,4,1,1);
INSERT INTO "lure" VALUES(6,2,4,1,1);
CREATE TABLE note (entry INTEGER PRIMARY KEY REFERENCES entry (id), words TEXT NOT NULL);
INSERT INTO "note" VALUES(17,'cracked; "set aside"');
CREATE TABLE pattern (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), name TEXT NOT NULL, version INTEGER NOT NULL,
        stamp TEXT NOT NULL, design TEXT NOT NULL
    );
INSERT INTO "pattern" VALUES(4,'Small floater',1,'f5162d6e','name = "Small floater"
length = "90 mm"

[outline]
back = ["0 mm: 0 mm", "10 mm: 9 mm", "30 mm: 14 mm", "60 mm: 9 mm", "90 mm: 3 mm"]
side = ["0 mm: 0 mm", "10 mm: 7 mm", "30 mm: 10 mm", "60 mm: 7 mm", "90 mm: 2 mm"]

[wood]
species = "basswood"

[[hook]]
name = "belly hook"
size = "6"
at = "35 mm"

[[pocket]]
name = "belly"
at = "25 mm"
bore = "8 mm"

[water]
temperature = "15 C"

[aim]
does = "floats"
reserve = "20 %"
');
CREATE TABLE photo (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), name TEXT NOT NULL, hash TEXT NOT NULL,
        suffix TEXT NOT NULL, shows TEXT NOT NULL
    );
INSERT INTO "photo" VALUES(20,'side.png','f731c2528f4184b386555de339aeb78f1f0908532be04e6bfe1ec790f5f50da9','png','left side');
CREATE TABLE stage (step INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);
INSERT INTO "stage" VALUES(10,'board');
INSERT INTO "stage" VALUES(20,'square');
INSERT INTO "stage" VALUES(30,'shaped');
INSERT INTO "stage" VALUES(40,'drilled');
INSERT INTO "stage" VALUES(50,'sealed');
INSERT INTO "stage" VALUES(60,'dry fit');
INSERT INTO "stage" VALUES(70,'leaded');
INSERT INTO "stage" VALUES(80,'primed');
INSERT INTO "stage" VALUES(90,'clear');
INSERT INTO "stage" VALUES(100,'rigged');
CREATE TABLE stock (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), name TEXT NOT NULL, what TEXT NOT NULL,
        material TEXT NOT NULL, each REAL, each_spread REAL, count INTEGER, amount REAL, amount_spread REAL,
        density REAL, density_spread REAL, lot TEXT NOT NULL,
        CHECK (typeof(each) IN ('real', 'null') AND (each_spread IS NULL OR each_spread >= 0)), CHECK (typeof(amount) IN ('real', 'null') AND (amount_spread IS NULL OR amount_spread >= 0)), CHECK (typeof(density) IN ('real', 'null') AND (density_spread IS NULL OR density_spread >= 0))
    );
INSERT INTO "stock" VALUES(2,'no. 6 treble','hook','steel',0.001,0.0001,40,NULL,NULL,NULL,NULL,'');
INSERT INTO "stock" VALUES(3,'clear epoxy','resin','',NULL,NULL,NULL,0.5,NULL,1120.0,NULL,'L-2207');
CREATE TABLE timed_drop (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), distance REAL NOT NULL, distance_spread REAL,
        times TEXT NOT NULL, rises INTEGER NOT NULL CHECK (rises IN (0, 1)), fitted TEXT,
        temperature REAL, temperature_spread REAL, salinity REAL, salinity_spread REAL, CHECK (typeof(distance) IN ('real', 'null') AND (distance_spread IS NULL OR distance_spread >= 0))
    );
INSERT INTO "timed_drop" VALUES(13,1.2192,0.01,'[1.1, 1.2, 1.15]',1,NULL,288.15,NULL,NULL,NULL);
CREATE TABLE tow_test (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), speed REAL NOT NULL, speed_spread REAL, beats REAL,
        beats_spread REAL, roll REAL, roll_spread REAL, depth REAL, depth_spread REAL, seen TEXT NOT NULL,
        fitted TEXT, stand_ins TEXT NOT NULL, temperature REAL, temperature_spread REAL, salinity REAL,
        salinity_spread REAL, CHECK (typeof(speed) IN ('real', 'null') AND (speed_spread IS NULL OR speed_spread >= 0))
    );
INSERT INTO "tow_test" VALUES(15,0.89408,NULL,5.5,NULL,0.3,NULL,1.5,NULL,'tight wobble; =runs left','["belly hook"]','[["belly hook", 0.001]]',NULL,NULL,NULL,NULL);
CREATE TABLE weighing (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), mass REAL NOT NULL, mass_spread REAL,
        piece TEXT NOT NULL, fitted TEXT, CHECK (typeof(mass) IN ('real', 'null') AND (mass_spread IS NULL OR mass_spread >= 0))
    );
INSERT INTO "weighing" VALUES(7,0.0091,0.0001,'whole',NULL);
INSERT INTO "weighing" VALUES(8,0.0094,0.0001,'whole',NULL);
INSERT INTO "weighing" VALUES(9,0.0105,NULL,'whole','["belly hook"]');
CREATE INDEX entry_of_lure ON entry (lure, stage, id);
CREATE INDEX entry_of_kind ON entry (kind, id);
CREATE INDEX entry_of_root ON entry (root, id) WHERE root IS NOT NULL;
CREATE INDEX board_name ON board (name);
CREATE INDEX pattern_name ON pattern (name, version);
CREATE INDEX pattern_stamp ON pattern (stamp);
CREATE INDEX lure_number ON lure (number);
CREATE INDEX lure_pattern ON lure (pattern, run);
CREATE INDEX lure_board ON lure (board);
CREATE TRIGGER entry_update BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER entry_delete BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER board_update BEFORE UPDATE ON board BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER board_delete BEFORE DELETE ON board BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER stock_update BEFORE UPDATE ON stock BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER stock_delete BEFORE DELETE ON stock BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER pattern_update BEFORE UPDATE ON pattern BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER pattern_delete BEFORE DELETE ON pattern BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER lure_update BEFORE UPDATE ON lure BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER lure_delete BEFORE DELETE ON lure BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER weighing_update BEFORE UPDATE ON weighing BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER weighing_delete BEFORE DELETE ON weighing BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER jug_update BEFORE UPDATE ON jug BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER jug_delete BEFORE DELETE ON jug BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER ballast_update BEFORE UPDATE ON ballast BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER ballast_delete BEFORE DELETE ON ballast BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER fitting_update BEFORE UPDATE ON fitting BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER fitting_delete BEFORE DELETE ON fitting BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER timed_drop_update BEFORE UPDATE ON timed_drop BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER timed_drop_delete BEFORE DELETE ON timed_drop BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER attitude_update BEFORE UPDATE ON attitude BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER attitude_delete BEFORE DELETE ON attitude BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER tow_test_update BEFORE UPDATE ON tow_test BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER tow_test_delete BEFORE DELETE ON tow_test BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER change_update BEFORE UPDATE ON change BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER change_delete BEFORE DELETE ON change BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER note_update BEFORE UPDATE ON note BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER note_delete BEFORE DELETE ON note BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER photo_update BEFORE UPDATE ON photo BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER photo_delete BEFORE DELETE ON photo BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER answer_update BEFORE UPDATE ON answer BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
CREATE TRIGGER answer_delete BEFORE DELETE ON answer BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END;
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('entry',20);
COMMIT;
