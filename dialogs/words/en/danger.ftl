# One line for a danger that was heard, but not for sure. A yes stops the work, a no goes on.

danger-ask-injury = Is somebody hurt?
danger-ask-fire = Is something on fire that should not be?
danger-ask-shock = Did somebody get an electric shock?
danger-ask-collapse = Is something about to come down?
danger-ask-line = Is that an electric line near your roof?
danger-ask-asbestos = Is that about your own roof: could there be asbestos in it?
danger-ask-rot = Is that about your own roof: is some of its timber rotten, split or sagging?
danger-ask-fragile = Is that about your own roof: might it not hold you?
