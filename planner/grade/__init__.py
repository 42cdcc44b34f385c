"""The grade rule of a pipe and *the* air-trap test, used by every floor above."""
