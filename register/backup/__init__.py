"""Backup and restore: database and files in one archive, with a checksum of each part."""
