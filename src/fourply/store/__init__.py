"""Keeping a shop: records, their history, backups, in SQLite or PostgreSQL.

Lives here: tables, row to value and back, numbered migrations, backup and restore, export and import, pictures by hash.
May import: `app.ports`, `app.ports_store`, `files` and the value types, SQLAlchemy, psycopg.
Never here: a rule of the trade, a domain class mapped to a table, a path made from a name that a person gave.
Tested by: any sequence of changes, undos and redos against a model; kills; eight writers; both databases.
"""
