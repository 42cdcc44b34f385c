"""Printed pages of text and tables: type, paper, forms."""
