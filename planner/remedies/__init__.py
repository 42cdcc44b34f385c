"""Remedies the program can do itself: a finding to the changes of the site that mend it."""
