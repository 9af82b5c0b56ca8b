CREATE TABLE sealing (
	one     INTEGER PRIMARY KEY CHECK (one = 1), -- one row if the bodies are sealed; none if they are plain
	memory  INTEGER NOT NULL, -- argon2id: memory, KiB
	passes  INTEGER NOT NULL, -- argon2id: times over the memory
	lanes   INTEGER NOT NULL, -- argon2id: lanes
	salt    BLOB NOT NULL CHECK (length(salt) = 16), -- argon2id: 16 random bytes, new with each passphrase
	nonce   BLOB NOT NULL CHECK (length(nonce) = 24), -- of wrapped, 24 random bytes
	wrapped BLOB NOT NULL CHECK (length(wrapped) = 48), -- the data key, sealed by the key that argon2id makes of the passphrase
	sum     BLOB NOT NULL CHECK (length(sum) = 32) -- SHA-256 over all of these, so that damage is told from a wrong passphrase
) STRICT;

CREATE TABLE origin (
	one   INTEGER PRIMARY KEY CHECK (one = 1), -- one row if all lines were written anew from another file; none if not
	store BLOB NOT NULL CHECK (length(store) = 16), -- that file's id
	seq   INTEGER NOT NULL, -- its last line's number
	hash  BLOB NOT NULL CHECK (length(hash) = 32), -- its last line's hash
	at    TEXT NOT NULL, -- when, UTC, RFC 3339
	sum   BLOB NOT NULL CHECK (length(sum) = 32) -- SHA-256 over all of these
) STRICT;
