"""The nouns: frozen values, validated once when made; no algorithms."""
