"""One file a format: a plotted route written out, a points file read in."""
