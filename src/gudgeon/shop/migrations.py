"""The numbered steps that a log's file is brought up to date by.

A step that was once in use is never changed: a file written by it is out there. What is needed later is a new step.
Each runs in one transaction, statement by statement, so that a file is at one version or the next and never between.
"""

_DETAILS = ("board", "stock", "pattern", "lure", "weighing", "jug", "ballast", "fitting", "timed_drop", "attitude",
            "tow_test", "change", "note", "photo")  # fmt: skip
_REAL = "CHECK (typeof({0}) IN ('real', 'null') AND ({0}_spread IS NULL OR {0}_spread >= 0))"

_STAGES = (
    "CREATE TABLE stage (step INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE)",
    "INSERT INTO stage VALUES (10, 'board'), (20, 'square'), (30, 'shaped'), (40, 'drilled'), (50, 'sealed'), "
    "(60, 'dry fit'), (70, 'leaded'), (80, 'primed'), (90, 'clear'), (100, 'rigged')",
)

_ENTRIES = (
    """CREATE TABLE entry (
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
    )""",
    "CREATE INDEX entry_of_lure ON entry (lure, stage, id)",
    "CREATE INDEX entry_of_kind ON entry (kind, id)",
    "CREATE INDEX entry_of_root ON entry (root, id) WHERE root IS NOT NULL",
)

_LOOSE = (
    f"""CREATE TABLE board (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), name TEXT NOT NULL, wood TEXT NOT NULL,
        density REAL, density_spread REAL, moisture REAL, moisture_spread REAL,
        length REAL, width REAL, thickness REAL, mass REAL, mass_spread REAL,
        {_REAL.format("density")}, {_REAL.format("mass")}
    )""",
    "CREATE INDEX board_name ON board (name)",
    f"""CREATE TABLE stock (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), name TEXT NOT NULL, what TEXT NOT NULL,
        material TEXT NOT NULL, each REAL, each_spread REAL, count INTEGER, amount REAL, amount_spread REAL,
        density REAL, density_spread REAL, lot TEXT NOT NULL,
        {_REAL.format("each")}, {_REAL.format("amount")}, {_REAL.format("density")}
    )""",
    """CREATE TABLE pattern (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), name TEXT NOT NULL, version INTEGER NOT NULL,
        stamp TEXT NOT NULL, design TEXT NOT NULL
    )""",
    "CREATE INDEX pattern_name ON pattern (name, version)",
    "CREATE INDEX pattern_stamp ON pattern (stamp)",
    """CREATE TABLE lure (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), number INTEGER NOT NULL CHECK (number > 0),
        pattern INTEGER NOT NULL REFERENCES entry (id), run INTEGER NOT NULL, board INTEGER REFERENCES entry (id)
    )""",
    "CREATE INDEX lure_number ON lure (number)",
    "CREATE INDEX lure_pattern ON lure (pattern, run)",
    "CREATE INDEX lure_board ON lure (board)",
)

_OF_LURE = (
    f"""CREATE TABLE weighing (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), mass REAL NOT NULL, mass_spread REAL,
        piece TEXT NOT NULL, fitted TEXT, {_REAL.format("mass")}
    )""",
    f"""CREATE TABLE jug (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), displaced REAL NOT NULL, displaced_spread REAL,
        piece TEXT NOT NULL, fitted TEXT, temperature REAL, temperature_spread REAL, salinity REAL,
        salinity_spread REAL, {_REAL.format("displaced")}
    )""",
    f"""CREATE TABLE ballast (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), hole TEXT NOT NULL, mass REAL NOT NULL, mass_spread REAL,
        station REAL, depth REAL, bore REAL, material TEXT NOT NULL, {_REAL.format("mass")}
    )""",
    f"""CREATE TABLE fitting (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), part TEXT NOT NULL, mass REAL NOT NULL, mass_spread REAL,
        {_REAL.format("mass")}
    )""",
    f"""CREATE TABLE timed_drop (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), distance REAL NOT NULL, distance_spread REAL,
        times TEXT NOT NULL, rises INTEGER NOT NULL CHECK (rises IN (0, 1)), fitted TEXT,
        temperature REAL, temperature_spread REAL, salinity REAL, salinity_spread REAL, {_REAL.format("distance")}
    )""",
    f"""CREATE TABLE attitude (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), pitch REAL NOT NULL, pitch_spread REAL, leans REAL,
        leans_spread REAL, state TEXT NOT NULL, fitted TEXT, temperature REAL, temperature_spread REAL,
        salinity REAL, salinity_spread REAL, {_REAL.format("pitch")}
    )""",
    f"""CREATE TABLE tow_test (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), speed REAL NOT NULL, speed_spread REAL, beats REAL,
        beats_spread REAL, roll REAL, roll_spread REAL, depth REAL, depth_spread REAL, seen TEXT NOT NULL,
        fitted TEXT, stand_ins TEXT NOT NULL, temperature REAL, temperature_spread REAL, salinity REAL,
        salinity_spread REAL, {_REAL.format("speed")}
    )""",
    "CREATE TABLE change (entry INTEGER PRIMARY KEY REFERENCES entry (id), what TEXT NOT NULL, why TEXT NOT NULL)",
    "CREATE TABLE note (entry INTEGER PRIMARY KEY REFERENCES entry (id), words TEXT NOT NULL)",
    """CREATE TABLE photo (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), name TEXT NOT NULL, hash TEXT NOT NULL,
        suffix TEXT NOT NULL, shows TEXT NOT NULL
    )""",
)

_STAYS = tuple(
    f"CREATE TRIGGER {table}_{verb.lower()} BEFORE {verb} ON {table} "
    "BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END"
    for table in ("entry", *_DETAILS)
    for verb in ("UPDATE", "DELETE")
)

_ANSWERS = (
    """CREATE TABLE answer (
        entry INTEGER PRIMARY KEY REFERENCES entry (id), question TEXT NOT NULL, stamp TEXT NOT NULL,
        headline TEXT NOT NULL, told TEXT NOT NULL, design TEXT NOT NULL
    )""",
    *(f"CREATE TRIGGER answer_{verb.lower()} BEFORE {verb} ON answer "
      "BEGIN SELECT RAISE(ABORT, 'what is entered stays; a correction is a new entry'); END"
      for verb in ("UPDATE", "DELETE")),
)  # fmt: skip

MIGRATIONS: tuple[tuple[str, ...], ...] = (
    (*_STAGES, *_ENTRIES, *_LOOSE, *_OF_LURE, *_STAYS),
    _ANSWERS,
)
"""Statements that make version n of version n - 1; the first stands for version 1."""
