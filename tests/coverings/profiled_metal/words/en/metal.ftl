rule-metal-under-4 = Profiled metal needs a slope of { $to } or more.
rule-metal-slope = Here purlins stand no more than { $max_purlin_spacing } apart, and one sheet laps the next by { $end_lap }.
rule-metal-screws = A roofing screw bites { $sheet_screw_bite } into the timber.
rule-metal-overhangs = The sheets pass the eaves by { $eaves_overhang } and the barge board by { $verge_overhang }.
rule-metal-pattern = At the eaves and at laps a screw stands in every hollow, between them in every other one.
