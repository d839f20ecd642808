# Said when a measurement could not simply be taken: what is unclear, and what to send instead.
# The readings to choose from follow as buttons where there are any.

reading-no-number = I could not find a measurement in that. Please send a number with its unit, such as 2.4 m, 2400 mm or 8 ft 6.
reading-too-long = That is a lot of text for me. Please send just the measurement, such as 2.4 m.
reading-negative = A measurement here cannot be less than nothing. Please send it without the minus sign.
reading-unit-unknown = I don't know that unit. Please use mm, cm, m, feet or inches for lengths, and degrees for slopes.
reading-wants-length = I need a length here, and that is something else. Please send one such as 2.4 m, 240 cm or 8 ft 6.
reading-wants-slope = I need a slope here, and that is a length. Please send degrees (22°), "1 in 4", or the rise and the run, such as "300 over 900".
reading-out-of-band = That does not fit: I can take { $low } to { $high }. Please check the tape and the unit, and send it again.
reading-several-units = Which unit is that in?
reading-slipped-decimal-point = That looks too big or too small. Has the decimal point slipped?
reading-slipped-unit = That does not fit in the unit you wrote. Did you mean another one?
reading-and-a-bit = How big is the bit? Please measure to the nearest few millimetres if you can.
reading-one-sided = Is that the exact size? I need one figure, as near as you can measure it.
reading-range = I need one figure. Which is nearer?
reading-several-figures = I see more than one number. Which one is it?
reading-tenths-or-hundredths = I can read that in two ways. Which do you mean?
reading-degrees-or-in-twelve = Is that degrees, or how much the roof climbs in every 12 along?
reading-pitch-of-span = Is that how much it climbs over the whole width, as carpenters say it, or over the run of one slope?
reading-rule-boundary = This one matters: from { $at } on the roof is built another way. Which do you mean?
