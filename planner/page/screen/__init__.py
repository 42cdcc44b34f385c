"""What stands on the page: its layout, forms and words; it computes nothing."""
