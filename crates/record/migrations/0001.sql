-- Engines, their builds and job cards; every text as it was typed; results, pictures, the program's own choices.
-- Times are milliseconds since 1970-01-01 00:00 UTC; deleted_ms is empty while the row is in use.

CREATE TABLE engine (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    invented INTEGER NOT NULL CHECK (invented IN (0, 1)),
    created_ms INTEGER NOT NULL,
    deleted_ms INTEGER
) STRICT;

CREATE TABLE build (
    id INTEGER PRIMARY KEY,
    engine_id INTEGER NOT NULL REFERENCES engine (id),
    name TEXT NOT NULL,
    created_ms INTEGER NOT NULL,
    deleted_ms INTEGER
) STRICT;

CREATE INDEX build_of_engine ON build (engine_id);

CREATE TABLE visit (
    id INTEGER PRIMARY KEY,
    build_id INTEGER NOT NULL REFERENCES build (id),
    name TEXT NOT NULL,
    created_ms INTEGER NOT NULL,
    deleted_ms INTEGER
) STRICT;

-- The text of each field as it stands; version counts from 1.
CREATE TABLE field (
    owner_kind TEXT NOT NULL CHECK (owner_kind IN ('engine', 'build', 'visit')),
    owner_id INTEGER NOT NULL,
    key TEXT NOT NULL,
    text TEXT NOT NULL,
    version INTEGER NOT NULL CHECK (version >= 1),
    changed_ms INTEGER NOT NULL,
    PRIMARY KEY (owner_kind, owner_id, key)
) STRICT, WITHOUT ROWID;

-- Every version of every field, the present one included.
CREATE TABLE field_history (
    owner_kind TEXT NOT NULL CHECK (owner_kind IN ('engine', 'build', 'visit')),
    owner_id INTEGER NOT NULL,
    key TEXT NOT NULL,
    version INTEGER NOT NULL CHECK (version >= 1),
    text TEXT NOT NULL,
    changed_ms INTEGER NOT NULL,
    PRIMARY KEY (owner_kind, owner_id, key, version)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER field_history_is_not_rewritten BEFORE UPDATE ON field_history
BEGIN
    SELECT RAISE (ABORT, 'the history of a field is only added to');
END;

CREATE TRIGGER field_history_is_not_cut BEFORE DELETE ON field_history
BEGIN
    SELECT RAISE (ABORT, 'the history of a field is only added to');
END;

CREATE TABLE result (
    id INTEGER PRIMARY KEY,
    visit_id INTEGER NOT NULL REFERENCES visit (id),
    kind TEXT NOT NULL,
    made_ms INTEGER NOT NULL,
    program_version TEXT NOT NULL,
    inputs_text TEXT NOT NULL,
    report_json TEXT NOT NULL
) STRICT;

CREATE INDEX result_of_visit ON result (visit_id, made_ms);

CREATE TRIGGER result_is_not_rewritten BEFORE UPDATE ON result
BEGIN
    SELECT RAISE (ABORT, 'a result keeps the inputs that made it');
END;

-- The bytes stand last, so that a list of pictures is read without them.
CREATE TABLE picture (
    id INTEGER PRIMARY KEY,
    visit_id INTEGER NOT NULL REFERENCES visit (id),
    step TEXT NOT NULL,
    caption TEXT NOT NULL,
    media_type TEXT NOT NULL,
    width INTEGER NOT NULL,
    height INTEGER NOT NULL,
    made_ms INTEGER NOT NULL,
    deleted_ms INTEGER,
    on_sheet INTEGER NOT NULL CHECK (on_sheet IN (0, 1)),
    bytes BLOB NOT NULL
) STRICT;

CREATE INDEX picture_of_visit ON picture (visit_id);

-- The program's own choices: units, theme.
CREATE TABLE setting (
    key TEXT PRIMARY KEY,
    text TEXT NOT NULL
) STRICT, WITHOUT ROWID;
