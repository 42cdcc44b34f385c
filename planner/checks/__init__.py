"""The rules that make findings, one short function each."""
