"""How each figure of a log is made: formula, numbers, arithmetic."""
