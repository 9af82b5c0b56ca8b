CREATE TABLE migration (
	version INTEGER PRIMARY KEY, -- number of the step: 1, 2, 3 …
	name    TEXT NOT NULL,       -- file name of the step
	sha256  BLOB NOT NULL CHECK (length(sha256) = 32) -- of the step's text, 32 bytes
) STRICT;

CREATE TABLE store (
	one   INTEGER PRIMARY KEY CHECK (one = 1), -- there is one row
	id    BLOB NOT NULL CHECK (length(id) = 16), -- 16 random bytes, drawn when the file was made; its copies share it
	start BLOB NOT NULL CHECK (length(start) = 32) -- the hash before the first line, made from id; 32 bytes
) STRICT;

CREATE TABLE line (
	seq  INTEGER PRIMARY KEY CHECK (seq > 0), -- place in the chain: 1, 2, 3 … without a gap
	id   TEXT NOT NULL, -- made by the sender, unique; has no index here, see docs/decisions
	body BLOB NOT NULL, -- what the sender wrote, of any content, perhaps encrypted
	hash BLOB NOT NULL CHECK (length(hash) = 32) -- SHA-256 over the hash before, seq, id and body; 32 bytes
) STRICT;

CREATE TABLE head (
	one  INTEGER PRIMARY KEY CHECK (one = 1), -- there is one row
	seq  INTEGER NOT NULL, -- the last line's number; 0 before the first
	hash BLOB NOT NULL CHECK (length(hash) = 32) -- the last line's hash; before the first, the start of the chain
) STRICT;
