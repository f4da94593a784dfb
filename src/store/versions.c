/* The steps from an empty file to the tables of today. */
#include "store/schema.h"

static const char *const version_1[] = {
	"CREATE TABLE job ("
	" id INTEGER PRIMARY KEY,"
	" uid TEXT NOT NULL UNIQUE,"
	" site TEXT NOT NULL,"
	" area REAL NOT NULL CHECK (area >= 0),"
	" not_before INTEGER,"
	" not_after INTEGER,"
	" priority INTEGER NOT NULL,"
	" repeat REAL NOT NULL CHECK (repeat >= 0),"
	" weeds TEXT NOT NULL,"
	" note TEXT NOT NULL,"
	" state TEXT NOT NULL CHECK (state IN ('waiting', 'done', 'dropped')),"
	" created INTEGER NOT NULL"
	") STRICT",

	"CREATE TABLE dose ("
	" job INTEGER NOT NULL REFERENCES job (id),"
	" position INTEGER NOT NULL CHECK (position >= 0),"
	" product TEXT NOT NULL,"
	" rate TEXT,"
	" PRIMARY KEY (job, position)"
	") STRICT, WITHOUT ROWID",

	"CREATE TABLE record ("
	" id INTEGER PRIMARY KEY,"
	" job INTEGER REFERENCES job (id),"
	" replaces INTEGER UNIQUE REFERENCES record (id),"
	" site TEXT NOT NULL,"
	" began INTEGER NOT NULL,"
	" ended INTEGER NOT NULL,"
	" area REAL,"
	" used REAL,"
	" air_temperature REAL,"
	" wind REAL,"
	" wind_direction REAL,"
	" humidity REAL,"
	" note TEXT NOT NULL,"
	" created INTEGER NOT NULL,"
	" CHECK (began <= ended),"
	" CHECK (replaces < id)"
	") STRICT",

	"CREATE TABLE amount ("
	" record INTEGER NOT NULL REFERENCES record (id),"
	" position INTEGER NOT NULL CHECK (position >= 0),"
	" product TEXT NOT NULL,"
	" amount REAL,"
	" unit TEXT NOT NULL CHECK (unit IN ('g', 'L')),"
	" PRIMARY KEY (record, position)"
	") STRICT, WITHOUT ROWID",

	"CREATE TABLE slot ("
	" job INTEGER PRIMARY KEY REFERENCES job (id),"
	" begins INTEGER NOT NULL,"
	" ends INTEGER NOT NULL,"
	" planned INTEGER NOT NULL,"
	" CHECK (begins < ends)"
	") STRICT",

	"CREATE TABLE notice ("
	" uid TEXT PRIMARY KEY NOT NULL,"
	" job INTEGER REFERENCES job (id),"
	" shown INTEGER NOT NULL,"
	" until INTEGER NOT NULL,"
	" title TEXT NOT NULL,"
	" text TEXT NOT NULL"
	") STRICT",

	"CREATE TABLE entry ("
	" uid TEXT PRIMARY KEY NOT NULL,"
	" hash INTEGER NOT NULL,"
	" sequence INTEGER NOT NULL CHECK (sequence >= 0),"
	" revised INTEGER NOT NULL"
	") STRICT",

	"CREATE TABLE source ("
	" address TEXT PRIMARY KEY NOT NULL,"
	" etag TEXT,"
	" last_modified TEXT,"
	" checked INTEGER NOT NULL,"
	" due INTEGER NOT NULL,"
	" failures INTEGER NOT NULL CHECK (failures >= 0),"
	" trouble TEXT"
	") STRICT",

	"CREATE TABLE document ("
	" id INTEGER PRIMARY KEY,"
	" address TEXT NOT NULL CHECK (address <> ''),"
	" fetched INTEGER NOT NULL,"
	" issued INTEGER NOT NULL,"
	" size INTEGER NOT NULL,"
	" body BLOB NOT NULL,"
	" CHECK (size = length(body))"
	") STRICT",

	"CREATE INDEX document_by_age ON document (address, fetched)",

	/* The guards hold for whoever opens the file with another program. */
	"CREATE TRIGGER record_is_final BEFORE UPDATE ON record BEGIN"
	" SELECT RAISE(ABORT, 'a record is never changed'); END",
	"CREATE TRIGGER record_is_kept BEFORE DELETE ON record BEGIN"
	" SELECT RAISE(ABORT, 'a record is never deleted'); END",
	"CREATE TRIGGER amount_is_final BEFORE UPDATE ON amount BEGIN"
	" SELECT RAISE(ABORT, 'a record is never changed'); END",
	"CREATE TRIGGER amount_is_kept BEFORE DELETE ON amount BEGIN"
	" SELECT RAISE(ABORT, 'a record is never changed'); END",
	/* REPLACE deletes without asking the trigger of deletion. */
	"CREATE TRIGGER record_is_new BEFORE INSERT ON record"
	" WHEN EXISTS (SELECT 1 FROM record"
	" WHERE id = NEW.id OR replaces = NEW.replaces) BEGIN"
	" SELECT RAISE(ABORT, 'a record is never deleted'); END",
	"CREATE TRIGGER amount_is_new BEFORE INSERT ON amount"
	" WHEN EXISTS (SELECT 1 FROM amount"
	" WHERE record = NEW.record AND position = NEW.position) BEGIN"
	" SELECT RAISE(ABORT, 'a record is never changed'); END",
	"CREATE TRIGGER slot_of_waiting BEFORE INSERT ON slot"
	" WHEN (SELECT state FROM job WHERE id = NEW.job) <> 'waiting' BEGIN"
	" SELECT RAISE(ABORT, 'only a waiting job has a slot'); END",
	"CREATE TRIGGER job_gives_up_slot BEFORE UPDATE OF state ON job"
	" WHEN NEW.state <> 'waiting'"
	" AND EXISTS (SELECT 1 FROM slot WHERE job = OLD.id) BEGIN"
	" SELECT RAISE(ABORT, 'only a waiting job has a slot'); END",
	"CREATE TRIGGER entry_rises BEFORE UPDATE ON entry"
	" WHEN NEW.sequence < OLD.sequence BEGIN"
	" SELECT RAISE(ABORT, 'the sequence of an entry never falls'); END",

	NULL,
};

static const char *const version_2[] = {
	"ALTER TABLE source ADD COLUMN leads_to TEXT",

	/* Bodies that are there stay plain: to pack them is work for C, and
	   they are pruned in time. AUTOINCREMENT, so that whoever holds the id
	   of a document that is gone never gets another one. The body is last,
	   or each look at a column behind it would read through the body. */
	"CREATE TABLE document_2 ("
	" id INTEGER PRIMARY KEY AUTOINCREMENT,"
	" address TEXT NOT NULL CHECK (address <> ''),"
	" fetched INTEGER NOT NULL,"
	" issued INTEGER NOT NULL,"
	" etag TEXT,"
	" last_modified TEXT,"
	" size INTEGER NOT NULL CHECK (size >= 0),"
	" packing TEXT NOT NULL CHECK (packing IN ('plain', 'zlib')),"
	" body BLOB NOT NULL,"
	" CHECK (packing <> 'plain' OR size = length(body))"
	") STRICT",
	"INSERT INTO document_2 (id, address, fetched, issued, size, packing,"
	" body) SELECT id, address, fetched, issued, size, 'plain', body"
	" FROM document ORDER BY id",
	"DROP TABLE document",
	"ALTER TABLE document_2 RENAME TO document",
	"CREATE INDEX document_by_age ON document (address, fetched)",
	"CREATE TRIGGER document_is_final BEFORE UPDATE ON document BEGIN"
	" SELECT RAISE(ABORT, 'a document is never changed'); END",
	"CREATE TRIGGER document_is_new BEFORE INSERT ON document"
	" WHEN EXISTS (SELECT 1 FROM document WHERE id = NEW.id) BEGIN"
	" SELECT RAISE(ABORT, 'a document is never changed'); END",

	"CREATE TABLE day_weather ("
	" site TEXT NOT NULL CHECK (site <> ''),"
	" day INTEGER NOT NULL,"
	" high REAL,"
	" low REAL,"
	" mean REAL,"
	" soil REAL,"
	" PRIMARY KEY (site, day),"
	" CHECK (low <= high)"
	") STRICT, WITHOUT ROWID",

	"CREATE TABLE request ("
	" host TEXT NOT NULL CHECK (host <> ''),"
	" at INTEGER NOT NULL"
	") STRICT",
	"CREATE INDEX request_by_host ON request (host, at)",

	NULL,
};

/* The words are those of event_word; one more takes a row back. */
#define WITH_AMOUNT "'green', 'soil', 'rain', 'irrigation'"
#define WITHOUT_AMOUNT                                                         \
	"'mowing', 'seeding', 'sodding', 'overseeding', 'aerating',"           \
	" 'nothing'"

static const char *const version_3[] = {
	"ALTER TABLE day_weather ADD COLUMN rain REAL CHECK (rain >= 0)",

	"CREATE TABLE observation ("
	" id INTEGER PRIMARY KEY,"
	" replaces INTEGER UNIQUE REFERENCES observation (id),"
	" site TEXT NOT NULL CHECK (site <> ''),"
	" kind TEXT NOT NULL CHECK (kind IN (" WITH_AMOUNT ", " WITHOUT_AMOUNT
	")),"
	" at_from INTEGER NOT NULL,"
	" at_to INTEGER NOT NULL,"
	" amount REAL,"
	" note TEXT NOT NULL,"
	" created INTEGER NOT NULL,"
	" CHECK (at_from <= at_to),"
	" CHECK (replaces < id),"
	" CHECK ((amount IS NOT NULL) = (kind IN (" WITH_AMOUNT "))),"
	" CHECK (kind <> 'nothing' OR replaces IS NOT NULL)"
	") STRICT",
	"CREATE TRIGGER observation_is_final BEFORE UPDATE ON observation BEGIN"
	" SELECT RAISE(ABORT, 'an observation is never changed'); END",
	"CREATE TRIGGER observation_is_kept BEFORE DELETE ON observation BEGIN"
	" SELECT RAISE(ABORT, 'an observation is never deleted'); END",
	"CREATE TRIGGER observation_is_new BEFORE INSERT ON observation"
	" WHEN EXISTS (SELECT 1 FROM observation"
	" WHERE id = NEW.id OR replaces = NEW.replaces) BEGIN"
	" SELECT RAISE(ABORT, 'an observation is never deleted'); END",

	NULL,
};

/* What earlier records do not tell reads as not told. */
#define ADD_TO_RECORD(column) "ALTER TABLE record ADD COLUMN " column
#define TEXT_TO_RECORD(name)  ADD_TO_RECORD(name " TEXT NOT NULL DEFAULT ''")

static const char *const version_4[] = {
	ADD_TO_RECORD("utc_offset INTEGER"),
	ADD_TO_RECORD("gust REAL"),
	ADD_TO_RECORD("forecast_air_temperature REAL"),
	ADD_TO_RECORD("forecast_wind REAL"),
	ADD_TO_RECORD("forecast_gust REAL"),
	ADD_TO_RECORD("forecast_wind_direction REAL"),
	ADD_TO_RECORD("forecast_humidity REAL"),
	TEXT_TO_RECORD("forecast_source"),
	ADD_TO_RECORD("forecast_issued INTEGER"),
	TEXT_TO_RECORD(
	    "verdict") " CHECK (verdict IN ('', 'go', 'no-go', 'unknown'))",
	TEXT_TO_RECORD("reasons"),
	TEXT_TO_RECORD("who"),
	TEXT_TO_RECORD("certification"),
	TEXT_TO_RECORD("client"),
	TEXT_TO_RECORD("place"),
	TEXT_TO_RECORD("weeds"),
	TEXT_TO_RECORD("turf"),
	TEXT_TO_RECORD("sprayer"),
	ADD_TO_RECORD("carrier REAL"),
	TEXT_TO_RECORD("unusual"),
	TEXT_TO_RECORD("leftover"),

	"ALTER TABLE amount ADD COLUMN registration TEXT NOT NULL DEFAULT ''",
	"ALTER TABLE amount ADD COLUMN rate REAL",
	"ALTER TABLE amount ADD COLUMN rate_unit TEXT"
	" CHECK (rate_unit IN ('g/m2', 'L/m2', 'g/L', 'L/L'))"
	" CHECK ((rate IS NULL) = (rate_unit IS NULL))",

	"CREATE TABLE calibration ("
	" id INTEGER PRIMARY KEY,"
	" sprayer TEXT NOT NULL CHECK (sprayer <> ''),"
	" at INTEGER NOT NULL,"
	" carrier REAL NOT NULL CHECK (carrier > 0),"
	" pace REAL CHECK (pace > 0),"
	" method TEXT NOT NULL,"
	" created INTEGER NOT NULL"
	") STRICT",
	"CREATE TRIGGER calibration_is_final BEFORE UPDATE ON calibration BEGIN"
	" SELECT RAISE(ABORT, 'a calibration is never changed'); END",
	"CREATE TRIGGER calibration_is_kept BEFORE DELETE ON calibration BEGIN"
	" SELECT RAISE(ABORT, 'a calibration is never deleted'); END",
	"CREATE TRIGGER calibration_is_new BEFORE INSERT ON calibration"
	" WHEN EXISTS (SELECT 1 FROM calibration WHERE id = NEW.id) BEGIN"
	" SELECT RAISE(ABORT, 'a calibration is never deleted'); END",

	"CREATE TABLE solution ("
	" id INTEGER PRIMARY KEY,"
	" product TEXT NOT NULL CHECK (product <> ''),"
	" made INTEGER NOT NULL,"
	" mass REAL NOT NULL CHECK (mass > 0),"
	" volume REAL NOT NULL CHECK (volume > 0),"
	" created INTEGER NOT NULL"
	") STRICT",
	"CREATE TRIGGER solution_is_final BEFORE UPDATE ON solution BEGIN"
	" SELECT RAISE(ABORT, 'a solution is never changed'); END",
	"CREATE TRIGGER solution_is_kept BEFORE DELETE ON solution BEGIN"
	" SELECT RAISE(ABORT, 'a solution is never deleted'); END",
	"CREATE TRIGGER solution_is_new BEFORE INSERT ON solution"
	" WHEN EXISTS (SELECT 1 FROM solution WHERE id = NEW.id) BEGIN"
	" SELECT RAISE(ABORT, 'a solution is never deleted'); END",

	NULL,
};

static const char *const *const steps[] = { version_1, version_2, version_3,
	version_4 };

const struct schema schema_current = {
	.steps = steps,
	.count = sizeof steps / sizeof steps[0],
};
