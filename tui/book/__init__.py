"""The work book on screen."""
