"""The tables as the queries see them. The migrations make them; a test holds the two equal."""

from __future__ import annotations

from sqlalchemy import CheckConstraint, Column, Integer, LargeBinary, MetaData, Table, Text, UniqueConstraint

metadata = MetaData()

migration = Table(
    "migration",
    metadata,
    Column("position", Integer, primary_key=True),
    Column("name", Text, nullable=False, unique=True),
    sqlite_strict=True,
)

sent_week = Table(
    "sent_week",
    metadata,
    Column("copy_id", Text, primary_key=True, nullable=False),
    Column("runner_id", Text, nullable=False),
    Column("monday", Text, nullable=False),
    Column("sequence", Integer, CheckConstraint("sequence >= 1"), nullable=False),
    Column("digest", Text, CheckConstraint("length(digest) = 64"), nullable=False),
    Column("format", Integer, nullable=False),
    Column("content", LargeBinary, nullable=False),
    Column("signed_by", Text, CheckConstraint("signed_by <> ''"), nullable=False),
    Column("signed_at", Text, nullable=False),
    UniqueConstraint("monday", "runner_id", "sequence"),
    sqlite_strict=True,
)

clearance = Table(
    "clearance",
    metadata,
    Column("number", Integer, primary_key=True),
    Column("runner_id", Text, nullable=False),
    Column("reason", Text, nullable=False),
    Column("cleared_by", Text, CheckConstraint("cleared_by <> ''"), nullable=False),
    Column("cleared_on", Text, nullable=False),
    Column("recorded_at", Text, nullable=False),
    UniqueConstraint("runner_id", "reason", "cleared_by", "cleared_on"),
    sqlite_strict=True,
)

entry = Table(
    "entry",
    metadata,
    Column("number", Integer, primary_key=True),
    Column("entry_id", Text, CheckConstraint("entry_id <> ''"), nullable=False),
    Column("runner_id", Text, CheckConstraint("runner_id <> ''"), nullable=False),
    Column("kind", Text, nullable=False),
    Column("performed_on", Text, nullable=False),
    Column("recorded_at", Text, nullable=False),
    Column("arrived_at", Text, nullable=False),
    Column("source", Text, nullable=False),
    Column("replaces", Text, nullable=False),
    Column("format", Integer, nullable=False),
    Column("content", LargeBinary, nullable=False),
    Column("digest", Text, CheckConstraint("length(digest) = 64"), nullable=False),
    UniqueConstraint("entry_id", "digest"),
    sqlite_strict=True,
)

erasure = Table(
    "erasure",
    metadata,
    Column("number", Integer, primary_key=True),
    Column("erased_by", Text, CheckConstraint("erased_by <> ''"), nullable=False),
    Column("erased_at", Text, nullable=False),
    UniqueConstraint("erased_by", "erased_at"),
    sqlite_strict=True,
)

erasing = Table(
    "erasing",
    metadata,
    Column("runner_id", Text, primary_key=True, nullable=False),
    sqlite_strict=True,
)
