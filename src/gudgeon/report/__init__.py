"""How an answer looks, on a screen and on paper."""
