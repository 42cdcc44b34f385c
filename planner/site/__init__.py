"""The user's side: the site file and the sketch, checked and in SI."""
