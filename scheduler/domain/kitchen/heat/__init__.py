"""How long the middle of a piece takes to heat, and what published limit that meets; units in every name."""
