"""The local web page: sketch on the map, see the plan answer. It computes nothing itself."""
