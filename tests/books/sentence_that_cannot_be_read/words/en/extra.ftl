# A brace that is never closed.
odd-sentence = The lap is { $lap long.
