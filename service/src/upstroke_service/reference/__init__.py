"""What others published: tables as data files, each row with the key of its source.

Every table is a TOML file beside the module that reads it. A table is checked when it is read: an
unknown field, a wrong type, a value that can't be or a source that ``sources.toml`` doesn't hold
stops the import, so no row without a source is ever computed with.
"""
