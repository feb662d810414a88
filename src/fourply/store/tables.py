"""The tables as they are now. How they came to be, step by step, is in `migrations`.

Times are ISO 8601 in UTC with microseconds, so that they sort as text. Text sorts by code point on both databases.
"""

from __future__ import annotations

from sqlalchemy import BigInteger, Boolean, Column, ForeignKey, Index, Integer, MetaData, Table, Text

METADATA = MetaData()
TEXT = Text().with_variant(Text(collation="C"), "postgresql")

SCHEMA = Table("fourply_schema", METADATA, Column("version", Integer, primary_key=True))

RECORD = Table(
    "record",
    METADATA,
    Column("id", TEXT, primary_key=True),
    Column("kind", TEXT, nullable=False),
    Column("scope", TEXT, nullable=False),
    Column("version", BigInteger, nullable=False),
    Column("archived", Boolean, nullable=False),
    Column("gone", Boolean, nullable=False),  # taken back by undo; kept, so that its version goes on growing
    Column("changed", TEXT, nullable=False),
    Column("value", TEXT, nullable=False),
    # what follows from the value, for lists
    Column("name", TEXT, nullable=False),
    Column("title", TEXT, nullable=False),
    Column("maker", TEXT, nullable=False),
    Column("due", TEXT, nullable=False),
    Column("state", TEXT, nullable=False),
    Column("place", BigInteger, nullable=False),
    Column("words", TEXT, nullable=False),
    Column("handle", TEXT, unique=True),  # what no other live record may have; null for anything goes
    Index("record_by_place", "kind", "scope", "place", "id"),
    Index("record_by_name", "kind", "scope", "name", "id"),
)
ENTRY = Table(
    "entry",
    METADATA,
    Column("seq", BigInteger, primary_key=True, autoincrement=False),
    Column("scope", TEXT, nullable=False),
    Column("at", TEXT, nullable=False),
    Column("who", TEXT, nullable=False),
    Column("label", TEXT, nullable=False),
    Column("act", TEXT, nullable=False),
    Column("of", BigInteger),
    # the stacks of undo and redo, linked from entry to entry; see `history`
    Column("top", BigInteger),
    Column("redo", BigInteger),
    Column("below", BigInteger),
    Index("entry_by_scope", "scope", "seq"),
)
CHANGE = Table(
    "change",
    METADATA,
    Column("seq", BigInteger, ForeignKey("entry.seq"), primary_key=True),
    Column("place", Integer, primary_key=True),
    Column("record", TEXT, ForeignKey("record.id"), nullable=False),
    Column("version", BigInteger, nullable=False),
    Column("before", TEXT),
    Column("after", TEXT),
    Index("change_by_record", "record", "seq"),
)
ANSWER = Table(
    "answer",
    METADATA,
    Column("key", TEXT, primary_key=True),
    Column("request", TEXT, nullable=False),
    Column("seq", BigInteger, ForeignKey("entry.seq"), nullable=False),
)

KEPT = (RECORD, ENTRY, CHANGE, ANSWER)
"""Every table but that of the schema, those first that others refer to."""
