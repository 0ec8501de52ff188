-- Index over many runs, the same for SQLite and PostgreSQL. Made again from archives alone at any time.
CREATE TABLE run (
  id             BIGINT       NOT NULL PRIMARY KEY, -- the first 63 bits of run_key
  run_key        VARCHAR(64)  NOT NULL UNIQUE,      -- SHA-256 over the digests of source, spec and profile
  result_sha256  VARCHAR(64)  NOT NULL,
  unit           TEXT         NOT NULL,
  kind           TEXT         NOT NULL,             -- name of the profile, or empty
  firmware       TEXT         NOT NULL,
  bench          TEXT         NOT NULL,
  operator       VARCHAR(80)  NOT NULL,             -- salted digest, or empty; never a name
  simulated      INTEGER      NOT NULL,
  started_micros BIGINT,                            -- since 1970-01-01T00:00:00Z; of a capture unknown
  spec           TEXT         NOT NULL,
  spec_version   INTEGER      NOT NULL,
  verdict        VARCHAR(10)  NOT NULL,
  reason         TEXT         NOT NULL,
  software       TEXT         NOT NULL,
  shifts         INTEGER      NOT NULL,
  landed         INTEGER      NOT NULL,
  failing        TEXT         NOT NULL,             -- ids of clauses, each between bars: |a|b|
  undecided      TEXT         NOT NULL,
  place          TEXT         NOT NULL              -- where it was found
);
CREATE INDEX run_by_start ON run (started_micros, run_key);
-- all that yields need, so that they read this index and nothing else
CREATE INDEX run_by_unit ON run (unit, started_micros, run_key, verdict, firmware, simulated);

CREATE TABLE clause (
  clause   TEXT         NOT NULL,
  run_id   BIGINT       NOT NULL REFERENCES run (id) ON DELETE CASCADE,
  place    INTEGER      NOT NULL,                   -- in the spec, from 1
  verdict  VARCHAR(10)  NOT NULL,
  value    DOUBLE PRECISION,                        -- of the worst group
  margin   DOUBLE PRECISION,
  unit     TEXT         NOT NULL,
  at_least DOUBLE PRECISION,
  at_most  DOUBLE PRECISION,
  worst    TEXT         NOT NULL,                   -- key of the worst group
  started_micros BIGINT,                            -- of the run, so that a trend reads one index and nothing else
  simulated      INTEGER NOT NULL,                  -- likewise
  PRIMARY KEY (run_id, place)
);
CREATE INDEX clause_in_time ON clause (clause, started_micros, run_id, simulated, verdict, value);

-- Names that were disclosed beside the runs, and digests whose name is not to be known again.
CREATE TABLE operator_name (
  digest VARCHAR(80) NOT NULL PRIMARY KEY,
  name   TEXT        NOT NULL
);
CREATE TABLE forgotten (
  digest VARCHAR(80) NOT NULL PRIMARY KEY
);
