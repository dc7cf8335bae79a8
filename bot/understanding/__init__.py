"""Understanding replies in steps: plain words, times set apart, what is asked or told, which step."""
