rule-extra =
    Sheets lap by { $end_lap } on { $slope }.
