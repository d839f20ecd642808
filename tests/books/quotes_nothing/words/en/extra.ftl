odd-sentence = As said: { never-said }.
