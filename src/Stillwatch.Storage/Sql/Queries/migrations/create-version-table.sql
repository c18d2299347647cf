-- Kept by the migrations themselves: which of them this store has been through.
CREATE TABLE IF NOT EXISTS store_version (
    version     INTEGER PRIMARY KEY,
    name        TEXT NOT NULL,
    applied_at  TEXT NOT NULL,
    program     TEXT NOT NULL
);
