"""Where each pipe can run under the grade rule of its role."""
