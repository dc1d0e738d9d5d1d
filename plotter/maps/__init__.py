"""The web map: one page that asks the network for nothing."""
