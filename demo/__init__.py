"""An invented workshop with a believable past."""
