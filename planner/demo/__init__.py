"""The demo site, Larch Hollow: invented ground, its sketch and its site file."""
