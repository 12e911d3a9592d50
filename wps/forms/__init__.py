"""Forms of records, revisions and acts; values of variables are read through `codes.parse`."""
