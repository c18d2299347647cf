-- The library, what people say of it, and the audit. Times of day are ISO 8601 text in UTC; times of a recording are milliseconds on its own line.

-- A recording as its reader gave it, then what people say of it. "digest" covers the facts of the file: what was read does not change.
CREATE TABLE recordings (
    id                             TEXT PRIMARY KEY,
    name                           TEXT NOT NULL,
    start_kind                     TEXT NOT NULL CHECK (start_kind IN ('unknown', 'time of day', 'local', 'zoned')),
    start_text                     TEXT NOT NULL,
    source_averaging_milliseconds  INTEGER,
    format                         TEXT NOT NULL,
    export_of                      TEXT,
    is_invented                    INTEGER NOT NULL CHECK (is_invented IN (0, 1)),
    annotation_count               INTEGER NOT NULL,
    digest                         BLOB NOT NULL,
    imported_at                    TEXT NOT NULL,
    imported_by                    TEXT NOT NULL,
    patient                        TEXT,
    category                       TEXT,
    unit                           TEXT,
    oxygen                         TEXT,
    source_averaging_seconds       TEXT,
    target_low                     TEXT,
    target_high                    TEXT,
    settings_in_force_json         TEXT,
    note                           TEXT,
    search_text                    TEXT NOT NULL
);

CREATE TABLE recording_files (
    recording   TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    number      INTEGER NOT NULL,
    name        TEXT NOT NULL,
    sha256      TEXT NOT NULL,
    byte_count  INTEGER NOT NULL,
    PRIMARY KEY (recording, number)
);

CREATE TABLE read_issues (
    recording    TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    number       INTEGER NOT NULL,
    severity     TEXT NOT NULL,
    code         TEXT NOT NULL,
    place        TEXT NOT NULL,
    found        TEXT NOT NULL,
    expected     TEXT NOT NULL,
    assumed      TEXT NOT NULL,
    alike_count  INTEGER NOT NULL,
    PRIMARY KEY (recording, number)
);

CREATE TABLE attachments (
    recording  TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    number     INTEGER NOT NULL,
    role       TEXT NOT NULL,
    name       TEXT NOT NULL,
    sha256     TEXT NOT NULL,
    content    BLOB NOT NULL,
    PRIMARY KEY (recording, number)
);

-- Channels of one file may share their times. An even axis needs no time chunks: its rate says all.
CREATE TABLE time_axes (
    recording            TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    number               INTEGER NOT NULL,
    row_count            INTEGER NOT NULL,
    first_milliseconds   INTEGER NOT NULL,
    last_milliseconds    INTEGER NOT NULL,
    period_milliseconds  INTEGER NOT NULL,
    is_period_declared   INTEGER NOT NULL CHECK (is_period_declared IN (0, 1)),
    rate_samples         INTEGER,
    rate_milliseconds    INTEGER,
    PRIMARY KEY (recording, number)
);

-- "holds" says what a sample is: millionths of the unit, or a converter's counts with their calibration.
CREATE TABLE channels (
    recording               TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    number                  INTEGER NOT NULL,
    axis                    INTEGER NOT NULL,
    label                   TEXT NOT NULL,
    kind                    TEXT NOT NULL,
    unit                    TEXT NOT NULL,
    holds                   TEXT NOT NULL CHECK (holds IN ('decimals', 'counts')),
    calibration_origin      INTEGER,
    calibration_offset      TEXT,
    calibration_numerator   TEXT,
    calibration_denominator TEXT,
    entry_milliseconds      INTEGER NOT NULL,
    levels                  INTEGER NOT NULL,
    PRIMARY KEY (recording, number),
    FOREIGN KEY (recording, axis) REFERENCES time_axes (recording, number) ON DELETE CASCADE
);

CREATE TABLE time_chunks (
    recording           TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    axis                INTEGER NOT NULL,
    chunk               INTEGER NOT NULL,
    row_count           INTEGER NOT NULL,
    first_milliseconds  INTEGER NOT NULL,
    last_milliseconds   INTEGER NOT NULL,
    checksum            BLOB NOT NULL,
    content             BLOB NOT NULL,
    PRIMARY KEY (recording, axis, chunk)
);

-- Level 0: the samples. Level 1 and up: least and greatest of ever longer stretches, for drawing.
CREATE TABLE sample_chunks (
    recording           TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    channel             INTEGER NOT NULL,
    level               INTEGER NOT NULL,
    chunk               INTEGER NOT NULL,
    row_count           INTEGER NOT NULL,
    first_milliseconds  INTEGER NOT NULL,
    last_milliseconds   INTEGER NOT NULL,
    checksum            BLOB NOT NULL,
    content             BLOB NOT NULL,
    PRIMARY KEY (recording, channel, level, chunk)
);

-- A window is found without touching the contents of chunks outside it.
CREATE INDEX sample_chunks_by_time ON sample_chunks (recording, channel, level, first_milliseconds, last_milliseconds, chunk);

CREATE TABLE annotation_chunks (
    recording  TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    chunk      INTEGER NOT NULL,
    row_count  INTEGER NOT NULL,
    checksum   BLOB NOT NULL,
    content    BLOB NOT NULL,
    PRIMARY KEY (recording, chunk)
);

-- Who did what, when: lines are only ever added, and each holds the hash of the one before.
CREATE TABLE audit (
    number         INTEGER PRIMARY KEY CHECK (number > 0),
    at             TEXT NOT NULL,
    by_actor       TEXT NOT NULL,
    action         TEXT NOT NULL,
    subject        TEXT NOT NULL,
    detail_json    TEXT NOT NULL,
    previous_hash  TEXT NOT NULL UNIQUE,
    hash           TEXT NOT NULL UNIQUE
);

-- The number of a mark, of settings and of a report is the number of the audit line that was written with it.
CREATE TABLE review_marks (
    number              INTEGER PRIMARY KEY REFERENCES audit (number),
    recording           TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    reviewer            TEXT NOT NULL,
    start_milliseconds  INTEGER NOT NULL,
    end_milliseconds    INTEGER NOT NULL,
    verdict             TEXT NOT NULL,
    note                TEXT NOT NULL,
    made_at             TEXT NOT NULL,
    made_by             TEXT NOT NULL,
    withdrawn_at        TEXT,
    withdrawn_by        TEXT
);

CREATE INDEX review_marks_by_recording ON review_marks (recording, number);

CREATE TABLE blind_looks (
    number              INTEGER PRIMARY KEY REFERENCES audit (number),
    recording           TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    reviewer            TEXT NOT NULL,
    start_milliseconds  INTEGER NOT NULL,
    end_milliseconds    INTEGER NOT NULL,
    looked_at           TEXT NOT NULL,
    looked_by           TEXT NOT NULL
);

CREATE INDEX blind_looks_by_recording ON blind_looks (recording, number);

CREATE TABLE settings_history (
    number                  INTEGER PRIMARY KEY REFERENCES audit (number),
    scope                   TEXT NOT NULL CHECK (scope IN ('unit default', 'patient')),
    category                TEXT NOT NULL,
    unit                    TEXT,
    patient                 TEXT,
    name                    TEXT NOT NULL,
    settings_json           TEXT NOT NULL,
    previous_settings_json  TEXT,
    why                     TEXT NOT NULL,
    accepted_by             TEXT NOT NULL,
    valid_until             TEXT,
    evidence_json           TEXT,
    written_at              TEXT NOT NULL,
    written_by              TEXT NOT NULL
);

CREATE INDEX settings_history_by_whom ON settings_history (scope, category, unit, patient, number);

CREATE TABLE reports (
    number      INTEGER PRIMARY KEY REFERENCES audit (number),
    kind        TEXT NOT NULL,
    title       TEXT NOT NULL,
    media_type  TEXT NOT NULL,
    sha256      TEXT NOT NULL,
    made_at     TEXT NOT NULL,
    made_by     TEXT NOT NULL,
    content     BLOB NOT NULL
);

-- What was written down stays as it was written down.

CREATE TRIGGER audit_lines_stay BEFORE DELETE ON audit
BEGIN SELECT RAISE(ABORT, 'a line of the audit is never deleted'); END;

CREATE TRIGGER audit_lines_stay_as_they_are BEFORE UPDATE ON audit
BEGIN SELECT RAISE(ABORT, 'a line of the audit is never changed'); END;

CREATE TRIGGER settings_lines_stay BEFORE DELETE ON settings_history
BEGIN SELECT RAISE(ABORT, 'a line of the settings history is never deleted'); END;

CREATE TRIGGER settings_lines_stay_as_they_are BEFORE UPDATE ON settings_history
BEGIN SELECT RAISE(ABORT, 'a line of the settings history is never changed'); END;

-- Marks leave with their recording and not otherwise.
CREATE TRIGGER marks_stay BEFORE DELETE ON review_marks
WHEN EXISTS (SELECT 1 FROM recordings WHERE id = OLD.recording)
BEGIN SELECT RAISE(ABORT, 'a mark is withdrawn, never deleted'); END;

CREATE TRIGGER marks_stay_as_they_are BEFORE UPDATE ON review_marks
WHEN OLD.withdrawn_at IS NOT NULL OR NEW.withdrawn_at IS NULL OR NEW.withdrawn_by IS NULL
    OR NEW.number <> OLD.number OR NEW.recording <> OLD.recording OR NEW.reviewer <> OLD.reviewer
    OR NEW.start_milliseconds <> OLD.start_milliseconds OR NEW.end_milliseconds <> OLD.end_milliseconds
    OR NEW.verdict <> OLD.verdict OR NEW.note <> OLD.note OR NEW.made_at <> OLD.made_at OR NEW.made_by <> OLD.made_by
BEGIN SELECT RAISE(ABORT, 'of a mark only the withdrawal may be written, once'); END;

CREATE TRIGGER blind_looks_stay BEFORE DELETE ON blind_looks
WHEN EXISTS (SELECT 1 FROM recordings WHERE id = OLD.recording)
BEGIN SELECT RAISE(ABORT, 'a blind look is never deleted'); END;

CREATE TRIGGER blind_looks_stay_as_they_are BEFORE UPDATE ON blind_looks
BEGIN SELECT RAISE(ABORT, 'a blind look is never changed'); END;

CREATE TRIGGER reports_stay BEFORE DELETE ON reports
BEGIN SELECT RAISE(ABORT, 'a report that was handed over is never deleted'); END;

CREATE TRIGGER reports_stay_as_they_are BEFORE UPDATE ON reports
BEGIN SELECT RAISE(ABORT, 'a report that was handed over is never changed'); END;
