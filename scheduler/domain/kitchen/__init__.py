"""Kitchen arithmetic: units in every name, a source beside every constant."""
