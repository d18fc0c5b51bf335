-- A store of version 1 as that version wrote it; never to be changed.
PRAGMA user_version = 1;
PRAGMA application_id = 0x504C4E4B;
BEGIN TRANSACTION;
CREATE TABLE document (
    job TEXT NOT NULL REFERENCES job (id),
    kind TEXT NOT NULL,                 -- 'job', 'plan', ...
    revision INTEGER NOT NULL CHECK (revision >= 1),
    body TEXT NOT NULL,
    made TEXT NOT NULL,
    why TEXT NOT NULL DEFAULT '',
    PRIMARY KEY (job, kind, revision)
) STRICT;
INSERT INTO "document" VALUES('den','job',1,'[room]
','2026-01-03T09:00:00+00:00','');
INSERT INTO "document" VALUES('den','plan',1,'{}','2026-01-03T09:00:00+00:00','the plan as it was first made');
INSERT INTO "document" VALUES('den','plan',2,'{"second": 2}','2026-01-03T09:00:00+00:00','the wall is nearer');
CREATE TABLE event (
    number INTEGER PRIMARY KEY AUTOINCREMENT,   -- in the order in which they came in
    job TEXT NOT NULL REFERENCES job (id),
    id TEXT NOT NULL,                           -- made by who wrote it down
    body TEXT NOT NULL,                         -- JSON
    came TEXT NOT NULL,
    UNIQUE (job, id)
) STRICT;
INSERT INTO "event" VALUES(1,'den','one-0','{"id":"one-0","order":1,"device":"one","at":"2026-01-03T09:00:00Z","kind":"piece-damaged","piece":"4.1.3"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(2,'den','one-1','{"id":"one-1","order":2,"device":"one","at":"2026-01-03T09:00:00Z","kind":"row-locked","row":4}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(3,'den','two-2','{"id":"two-2","order":3,"device":"two","at":"2026-01-03T09:00:00Z","kind":"gap-checked","where":"A-B","gap_mm":8.0}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(4,'den','two-3','{"id":"two-3","order":4,"device":"two","at":"2026-01-03T09:00:00Z","kind":"piece-shelved","piece":"4.1.2","label":"D","length_mm":451.0,"ends":"far"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(5,'den','two-4','{"id":"two-4","order":5,"device":"two","at":"2026-01-03T09:00:00Z","kind":"board-damaged","pack":"p1"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(6,'den','two-5','{"id":"two-5","order":6,"device":"two","at":"2026-01-03T09:00:00Z","kind":"piece-laid","piece":"4.1.2","whole":true,"pack":"p1"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(7,'den','two-6','{"id":"two-6","order":7,"device":"two","at":"2026-01-03T09:00:00Z","kind":"plan-taken","revision":3}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(8,'den','two-7','{"id":"two-7","order":8,"device":"two","at":"2026-01-03T09:00:00Z","kind":"undone","event":"one-1"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(9,'den','two-8','{"id":"two-8","order":9,"device":"two","at":"2026-01-03T09:00:00Z","kind":"undone","event":"two-6"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(10,'den','one-9','{"id":"one-9","order":3,"device":"one","at":"2026-01-03T09:00:00Z","kind":"piece-cut","piece":"1.1.2","source":"","length_mm":686.0,"width_mm":192.0,"ends":"near","rests":[{"label":"C","length_mm":436.25,"width_mm":192.0,"ends":"none"}],"pack":"p1"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(11,'den','two-10','{"id":"two-10","order":10,"device":"two","at":"2026-01-03T09:00:00Z","kind":"piece-damaged","piece":"1.1.3"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(12,'den','one-11','{"id":"one-11","order":4,"device":"one","at":"2026-01-03T09:00:00Z","kind":"photographed","photo":"ab12","where":"A-B","caption":"before"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(13,'den','one-12','{"id":"one-12","order":11,"device":"one","at":"2026-01-03T09:00:00Z","kind":"piece-laid","piece":"1.1.2","whole":false,"pack":""}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(14,'den','two-13','{"id":"two-13","order":11,"device":"two","at":"2026-01-03T09:00:00Z","kind":"piece-laid","piece":"3.1.1","whole":false,"pack":""}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(15,'den','two-14','{"id":"two-14","order":12,"device":"two","at":"2026-01-03T09:00:00Z","kind":"board-damaged","pack":"p1"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(16,'den','two-15','{"id":"two-15","order":13,"device":"two","at":"2026-01-03T09:00:00Z","kind":"undone","event":"two-5"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(17,'den','two-16','{"id":"two-16","order":14,"device":"two","at":"2026-01-03T09:00:00Z","kind":"piece-lifted","piece":"1.1.2"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(18,'den','one-17','{"id":"one-17","order":14,"device":"one","at":"2026-01-03T09:00:00Z","kind":"photographed","photo":"ab12","where":"A-B","caption":"before"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(19,'den','one-18','{"id":"one-18","order":15,"device":"one","at":"2026-01-03T09:00:00Z","kind":"photographed","photo":"ab12","where":"A-B","caption":"before"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(20,'den','two-19','{"id":"two-19","order":15,"device":"two","at":"2026-01-03T09:00:00Z","kind":"piece-laid","piece":"3.1.1","whole":false,"pack":""}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(21,'den','one-20','{"id":"one-20","order":16,"device":"one","at":"2026-01-03T09:00:00Z","kind":"photographed","photo":"ab12","where":"A-B","caption":"before"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(22,'den','one-21','{"id":"one-21","order":17,"device":"one","at":"2026-01-03T09:00:00Z","kind":"offcut-thrown","label":"D"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(23,'den','one-22','{"id":"one-22","order":18,"device":"one","at":"2026-01-03T09:00:00Z","kind":"piece-laid","piece":"2.1.2","whole":true,"pack":"p1"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(24,'den','one-23','{"id":"one-23","order":19,"device":"one","at":"2026-01-03T09:00:00Z","kind":"distance-measured","what":"to the far wall","row":1,"end":"near","length_mm":666.0}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(25,'den','one-24','{"id":"one-24","order":20,"device":"one","at":"2026-01-03T09:00:00Z","kind":"undone","event":"two-5"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(26,'den','one-25','{"id":"one-25","order":21,"device":"one","at":"2026-01-03T09:00:00Z","kind":"piece-damaged","piece":"3.1.3"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(27,'den','one-26','{"id":"one-26","order":22,"device":"one","at":"2026-01-03T09:00:00Z","kind":"piece-cut","piece":"1.1.1","source":"","length_mm":814.0,"width_mm":192.0,"ends":"far","rests":[],"pack":""}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(28,'den','two-27','{"id":"two-27","order":18,"device":"two","at":"2026-01-03T09:00:00Z","kind":"piece-damaged","piece":"2.1.2"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(29,'den','two-28','{"id":"two-28","order":19,"device":"two","at":"2026-01-03T09:00:00Z","kind":"piece-spoiled","piece":"1.1.1"}','2026-01-03T09:00:00+00:00');
INSERT INTO "event" VALUES(30,'den','one-29','{"id":"one-29","order":23,"device":"one","at":"2026-01-03T09:00:00Z","kind":"photographed","photo":"ab12","where":"A-B","caption":"before"}','2026-01-03T09:00:00+00:00');
CREATE TABLE job (
    id TEXT PRIMARY KEY,
    name TEXT NOT NULL,
    made TEXT NOT NULL,
    put_away TEXT                       -- when it was put away; NULL while it is in use
) STRICT;
INSERT INTO "job" VALUES('den','Den','2026-01-03T09:00:00+00:00',NULL);
CREATE TABLE photograph (
    job TEXT NOT NULL REFERENCES job (id),
    digest TEXT NOT NULL,               -- SHA-256 of its bytes
    media_type TEXT NOT NULL,
    bytes BLOB NOT NULL,
    PRIMARY KEY (job, digest)
) STRICT;
INSERT INTO "photograph" VALUES('den','1e044b438d24ef5e13f81057f541422c42fe97ae2b7f37568412683ef6f80137','image/png',X'89504E470D0A1A0A3030303030303030303030303030303030303030');
CREATE TRIGGER document_is_kept BEFORE DELETE ON document
BEGIN SELECT RAISE(ABORT, 'documents are never deleted'); END;
CREATE TRIGGER document_is_fixed BEFORE UPDATE ON document
BEGIN SELECT RAISE(ABORT, 'documents are never changed'); END;
CREATE TRIGGER event_is_kept BEFORE DELETE ON event
BEGIN SELECT RAISE(ABORT, 'events are never deleted'); END;
CREATE TRIGGER event_is_fixed BEFORE UPDATE ON event
BEGIN SELECT RAISE(ABORT, 'events are never changed'); END;
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('event',30);
COMMIT;
