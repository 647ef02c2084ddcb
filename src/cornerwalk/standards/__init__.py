"""Published limits as data, each with its source and standing."""
