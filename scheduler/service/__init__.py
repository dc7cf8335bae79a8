"""The use cases: a plan arrives, a reply arrives, what is due goes out."""
