-odd-term = { -other-term }
-other-term = { -odd-term }
odd-sentence = Say { other-sentence } first.
other-sentence = Then { odd-sentence }.
own-sentence = { own-sentence }
