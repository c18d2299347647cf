-- The library, what people say of it, and the audit. Times of day are ISO 8601 text in UTC; times of a recording are milliseconds on its own line.

-- A recording as its reader gave it, then what people say of it. "digest" covers the facts of the file: what was read does not change.
CREATE TABLE recordings (
    id                             TEXT PRIMARY KEY,
    name                           TEXT NOT NULL,
    start_kind                     TEXT NOT NULL CHECK (start_kind IN ('unknown', 'time of day', 'local', 'zoned')),
    start_text                     TEXT NOT NULL,
    source_averaging_milliseconds  BIGINT,
    format                         TEXT NOT NULL,
    export_of                      TEXT,
    is_invented                    BOOLEAN NOT NULL,
    annotation_count               BIGINT NOT NULL,
    digest                         BYTEA NOT NULL,
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
    number      BIGINT NOT NULL,
    name        TEXT NOT NULL,
    sha256      TEXT NOT NULL,
    byte_count  BIGINT NOT NULL,
    PRIMARY KEY (recording, number)
);

CREATE TABLE read_issues (
    recording    TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    number       BIGINT NOT NULL,
    severity     TEXT NOT NULL,
    code         TEXT NOT NULL,
    place        TEXT NOT NULL,
    found        TEXT NOT NULL,
    expected     TEXT NOT NULL,
    assumed      TEXT NOT NULL,
    alike_count  BIGINT NOT NULL,
    PRIMARY KEY (recording, number)
);

CREATE TABLE attachments (
    recording  TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    number     BIGINT NOT NULL,
    role       TEXT NOT NULL,
    name       TEXT NOT NULL,
    sha256     TEXT NOT NULL,
    content    BYTEA NOT NULL,
    PRIMARY KEY (recording, number)
);

-- Channels of one file may share their times. An even axis needs no time chunks: its rate says all.
CREATE TABLE time_axes (
    recording            TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    number               BIGINT NOT NULL,
    row_count            BIGINT NOT NULL,
    first_milliseconds   BIGINT NOT NULL,
    last_milliseconds    BIGINT NOT NULL,
    period_milliseconds  BIGINT NOT NULL,
    is_period_declared   BOOLEAN NOT NULL,
    rate_samples         BIGINT,
    rate_milliseconds    BIGINT,
    PRIMARY KEY (recording, number)
);

-- "holds" says what a sample is: millionths of the unit, or a converter's counts with their calibration.
CREATE TABLE channels (
    recording               TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    number                  BIGINT NOT NULL,
    axis                    BIGINT NOT NULL,
    label                   TEXT NOT NULL,
    kind                    TEXT NOT NULL,
    unit                    TEXT NOT NULL,
    holds                   TEXT NOT NULL CHECK (holds IN ('decimals', 'counts')),
    calibration_origin      BIGINT,
    calibration_offset      TEXT,
    calibration_numerator   TEXT,
    calibration_denominator TEXT,
    entry_milliseconds      BIGINT NOT NULL,
    levels                  BIGINT NOT NULL,
    PRIMARY KEY (recording, number),
    FOREIGN KEY (recording, axis) REFERENCES time_axes (recording, number) ON DELETE CASCADE
);

CREATE TABLE time_chunks (
    recording           TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    axis                BIGINT NOT NULL,
    chunk               BIGINT NOT NULL,
    row_count           BIGINT NOT NULL,
    first_milliseconds  BIGINT NOT NULL,
    last_milliseconds   BIGINT NOT NULL,
    checksum            BYTEA NOT NULL,
    content             BYTEA NOT NULL,
    PRIMARY KEY (recording, axis, chunk)
);

-- Level 0: the samples. Level 1 and up: least and greatest of ever longer stretches, for drawing.
CREATE TABLE sample_chunks (
    recording           TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    channel             BIGINT NOT NULL,
    level               BIGINT NOT NULL,
    chunk               BIGINT NOT NULL,
    row_count           BIGINT NOT NULL,
    first_milliseconds  BIGINT NOT NULL,
    last_milliseconds   BIGINT NOT NULL,
    checksum            BYTEA NOT NULL,
    content             BYTEA NOT NULL,
    PRIMARY KEY (recording, channel, level, chunk)
);

-- A window is found without touching the contents of chunks outside it.
CREATE INDEX sample_chunks_by_time ON sample_chunks (recording, channel, level, first_milliseconds, last_milliseconds, chunk);

CREATE TABLE annotation_chunks (
    recording  TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    chunk      BIGINT NOT NULL,
    row_count  BIGINT NOT NULL,
    checksum   BYTEA NOT NULL,
    content    BYTEA NOT NULL,
    PRIMARY KEY (recording, chunk)
);

-- Who did what, when: lines are only ever added, and each holds the hash of the one before.
CREATE TABLE audit (
    number         BIGINT PRIMARY KEY CHECK (number > 0),
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
    number              BIGINT PRIMARY KEY REFERENCES audit (number),
    recording           TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    reviewer            TEXT NOT NULL,
    start_milliseconds  BIGINT NOT NULL,
    end_milliseconds    BIGINT NOT NULL,
    verdict             TEXT NOT NULL,
    note                TEXT NOT NULL,
    made_at             TEXT NOT NULL,
    made_by             TEXT NOT NULL,
    withdrawn_at        TEXT,
    withdrawn_by        TEXT
);

CREATE INDEX review_marks_by_recording ON review_marks (recording, number);

CREATE TABLE blind_looks (
    number              BIGINT PRIMARY KEY REFERENCES audit (number),
    recording           TEXT NOT NULL REFERENCES recordings (id) ON DELETE CASCADE,
    reviewer            TEXT NOT NULL,
    start_milliseconds  BIGINT NOT NULL,
    end_milliseconds    BIGINT NOT NULL,
    looked_at           TEXT NOT NULL,
    looked_by           TEXT NOT NULL
);

CREATE INDEX blind_looks_by_recording ON blind_looks (recording, number);

CREATE TABLE settings_history (
    number                  BIGINT PRIMARY KEY REFERENCES audit (number),
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
    number      BIGINT PRIMARY KEY REFERENCES audit (number),
    kind        TEXT NOT NULL,
    title       TEXT NOT NULL,
    media_type  TEXT NOT NULL,
    sha256      TEXT NOT NULL,
    made_at     TEXT NOT NULL,
    made_by     TEXT NOT NULL,
    content     BYTEA NOT NULL
);

-- What was written down stays as it was written down.

CREATE FUNCTION refuse() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION '%', TG_ARGV[0];
END $$;

CREATE TRIGGER audit_lines_stay BEFORE DELETE ON audit FOR EACH ROW
EXECUTE FUNCTION refuse('a line of the audit is never deleted');

CREATE TRIGGER audit_lines_stay_as_they_are BEFORE UPDATE ON audit FOR EACH ROW
EXECUTE FUNCTION refuse('a line of the audit is never changed');

CREATE TRIGGER audit_lines_stay_together BEFORE TRUNCATE ON audit FOR EACH STATEMENT
EXECUTE FUNCTION refuse('a line of the audit is never deleted');

CREATE TRIGGER settings_lines_stay BEFORE DELETE ON settings_history FOR EACH ROW
EXECUTE FUNCTION refuse('a line of the settings history is never deleted');

CREATE TRIGGER settings_lines_stay_as_they_are BEFORE UPDATE ON settings_history FOR EACH ROW
EXECUTE FUNCTION refuse('a line of the settings history is never changed');

CREATE TRIGGER settings_lines_stay_together BEFORE TRUNCATE ON settings_history FOR EACH STATEMENT
EXECUTE FUNCTION refuse('a line of the settings history is never deleted');

CREATE TRIGGER marks_stay_together BEFORE TRUNCATE ON review_marks FOR EACH STATEMENT
EXECUTE FUNCTION refuse('a mark is withdrawn, never deleted');

CREATE TRIGGER marks_stay_as_they_are BEFORE UPDATE ON review_marks FOR EACH ROW
WHEN (OLD.withdrawn_at IS NOT NULL OR NEW.withdrawn_at IS NULL OR NEW.withdrawn_by IS NULL
    OR NEW.number <> OLD.number OR NEW.recording <> OLD.recording OR NEW.reviewer <> OLD.reviewer
    OR NEW.start_milliseconds <> OLD.start_milliseconds OR NEW.end_milliseconds <> OLD.end_milliseconds
    OR NEW.verdict <> OLD.verdict OR NEW.note <> OLD.note OR NEW.made_at <> OLD.made_at OR NEW.made_by <> OLD.made_by)
EXECUTE FUNCTION refuse('of a mark only the withdrawal may be written, once');

CREATE TRIGGER blind_looks_stay_together BEFORE TRUNCATE ON blind_looks FOR EACH STATEMENT
EXECUTE FUNCTION refuse('a blind look is never deleted');

CREATE TRIGGER blind_looks_stay_as_they_are BEFORE UPDATE ON blind_looks FOR EACH ROW
EXECUTE FUNCTION refuse('a blind look is never changed');

CREATE TRIGGER reports_stay BEFORE DELETE ON reports FOR EACH ROW
EXECUTE FUNCTION refuse('a report that was handed over is never deleted');

CREATE TRIGGER reports_stay_as_they_are BEFORE UPDATE ON reports FOR EACH ROW
EXECUTE FUNCTION refuse('a report that was handed over is never changed');

CREATE TRIGGER reports_stay_together BEFORE TRUNCATE ON reports FOR EACH STATEMENT
EXECUTE FUNCTION refuse('a report that was handed over is never deleted');

-- Marks leave with their recording and not otherwise. (A condition of a trigger may hold no query here, so the function asks.)
CREATE FUNCTION refuse_while_recording_is_there() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM recordings WHERE id = OLD.recording) THEN
        RAISE EXCEPTION '%', TG_ARGV[0];
    END IF;
    RETURN OLD;
END $$;

CREATE TRIGGER marks_stay BEFORE DELETE ON review_marks FOR EACH ROW
EXECUTE FUNCTION refuse_while_recording_is_there('a mark is withdrawn, never deleted');

CREATE TRIGGER blind_looks_stay BEFORE DELETE ON blind_looks FOR EACH ROW
EXECUTE FUNCTION refuse_while_recording_is_there('a blind look is never deleted');
