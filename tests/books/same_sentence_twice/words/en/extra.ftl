
rule-caution-wind = Mind the wind.
