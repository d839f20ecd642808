### Words on drawings: short, for there is little room.

drawing-title-whole-roof = Your roof, as I understand it

drawing-slope = Roof slope
drawing-slope-front = Front slope
drawing-slope-back = Back slope
drawing-eaves = Eaves
drawing-ridge = Ridge
drawing-top-edge = Top edge
drawing-verge-left = Left verge
drawing-verge-right = Right verge
drawing-wall = Wall
drawing-wall-left = Left wall
drawing-wall-right = Right wall
drawing-wind = Wind
drawing-wind-from-left = The wind comes mostly from the left.
drawing-wind-from-right = The wind comes mostly from the right.

drawing-whole-form-single = A roof with one slope.
drawing-whole-form-two = A roof with two slopes and a ridge.
drawing-whole-slope = { $slope }: { $pitch }, { $length } up
drawing-whole-length = Along the eaves: { $length }
drawing-whole-deck = On boards { $thickness } thick
drawing-whole-rafters = On rafters { $spacing } apart
drawing-whole-purlins = On purlins { $spacing } apart
drawing-whole-insulation = With insulation
drawing-whole-wall-top = A wall stands at the top edge.
drawing-whole-wall-left = A wall stands at the left.
drawing-whole-wall-right = A wall stands at the right.
drawing-whole-not-to-scale = Walls not to scale

drawing-slope-both = Both slopes
drawing-scale = { $length }
drawing-part = ({ $part } of { $parts })
drawing-line-end-lap = { $height } lap
drawing-line-eaves = Eaves
drawing-line-lap = End lap
drawing-line-between = Between
drawing-line-top = Top

drawing-title-setting-out = 1 Setting out: { $slope }
drawing-key-purlin = Purlin
drawing-key-nail-line = Line of nails
drawing-key-millimetres = Sizes in mm
drawing-key-lap-edge = Lower edge of the sheets above
drawing-key-timber = Timbers below, { $spacing } apart: find yours
drawing-key-from-eaves = Figures at the left: up from the eaves edge
drawing-says-slope = The slope is { $length } along the eaves and { $up } up.
drawing-says-purlins = { $count ->
    [one] One purlin, its middle { $heights } up from the eaves edge.
   *[other] { $count } purlins. Their middles are { $heights } up from the eaves edge.
}
drawing-says-nail-lines = { $count ->
    [one] One line of nails, { $heights } up from the eaves edge.
   *[other] { $count } lines of nails, { $heights } up from the eaves edge.
}
drawing-says-gap = No gap between them is over { $limit }.
drawing-says-end-laps = Sheets lap each other by { $lap }. The middle of each lap is { $heights } up.

drawing-title-sheets = 2 Sheets: { $slope }
drawing-chain-course = Course { $number }
drawing-key-order = Order of laying
drawing-key-sheet-number = 7b: sheet 7, piece b
drawing-key-offcuts = { $count ->
    [one] { $sheets }: piece kept from the front slope's sheet
   *[other] { $sheets }: pieces kept from the front slope's sheets
}
drawing-key-lap = Sheets lap here
drawing-key-under = Edge under a sheet
drawing-key-cut = Cut edge
drawing-key-roof-edge = Edge of the roof
drawing-says-sheets = { $sheets ->
    [one] One sheet
   *[other] { $sheets } sheets
}, in { $columns ->
    [one] one column
   *[other] { $columns } columns
} and { $courses ->
    [one] one course
   *[other] { $courses } courses
}.
drawing-says-start-left = Start at the left, as you face the eaves.
drawing-says-start-right = Start at the right, as you face the eaves.
drawing-says-course = Course { $number }: sheets { $length } long, lower edge { $from } up from the eaves edge.
drawing-says-end-lap = Each course laps the one below by { $lap }.
drawing-says-side-lap = { $lap ->
    [one] Each column laps the one before by one corrugation.
   *[other] Each column laps the one before by { $lap } corrugations.
}
drawing-says-overhangs = Sheets pass the eaves by { $eaves }, the first verge by { $verge } and the far verge by { $far }.

drawing-title-fixings = 3 Nails: { $slope }
drawing-inset = Close up
drawing-inset-lap = Close up, where sheets lap at the side
drawing-key-nail = { $count ->
    [one] One nail, { $length }
   *[other] { $count } nails, { $length }
}
drawing-key-long-nail = { $count ->
    [one] One nail, { $length }, at end laps and under pieces
   *[other] { $count } nails, { $length }, at end laps and under pieces
}
drawing-key-counts = Right: nails on the line
drawing-says-nails = { $count ->
    [one] One nail
   *[other] { $count } nails
}, each { $length } long, through the top of a corrugation.
drawing-says-long-nails = { $count ->
    [one] One nail
   *[other] { $count } nails
} { $length } long, at end laps and under pieces.
drawing-says-every = { $line }: { $every ->
    [one] in every corrugation.
    [2] in every other corrugation.
   *[other] in one corrugation out of { $every }.
}
drawing-says-side-lap-nails = Where sheets lap at the side, nail the corrugation on each side of the lap.

drawing-title-cuts = 5 Cutting: { $slope }
drawing-key-left-over = Left over
drawing-key-corrugations-across = Left end: lower end. corr.: corrugations
drawing-cut-sheets = { $count ->
    [one] Sheet { $numbers }
   *[other] Sheets { $numbers }
}
drawing-cut-piece = { $piece }: { $length } × { $width } ({ $corrugations } corr.)
drawing-cut-piece-for-back = { $piece }, for the back slope: { $length } × { $width } ({ $corrugations } corr.)
drawing-cut-only-piece = { $length } × { $width } ({ $corrugations } corr.)
drawing-cut-left-over = Left over: { $length } × { $width }
drawing-says-cuts = { $sheets ->
    [one] One sheet
   *[other] { $sheets } sheets
}, { $cuts ->
    [0] no cuts.
    [one] one cut.
   *[other] { $cuts } cuts.
}
drawing-says-cut-piece = From sheet { $sheets }, piece { $piece }: { $length } long, { $width } wide ({ $corrugations ->
    [one] one corrugation
   *[other] { $corrugations } corrugations
}).
drawing-says-cut-piece-for-back = From sheet { $sheets }, piece { $piece }, kept for the back slope: { $length } long, { $width } wide ({ $corrugations ->
    [one] one corrugation
   *[other] { $corrugations } corrugations
}).

drawing-title-section = 4 Cut through: { $slope }
drawing-panel-eaves = A  At the eaves
drawing-panel-ridge = B  At the ridge
drawing-panel-top-edge = B  At the top edge
drawing-panel-wall = B  At the wall
drawing-panel-across = C  Across the sheets
drawing-key-sheet = Sheet
drawing-key-timber-cut = Timber
drawing-key-boards = Boards
drawing-key-insulation = Insulation
drawing-key-underlay = Underlay
drawing-tag-overhang = Past the eaves: { $length }
drawing-tag-first-line = First line: { $length } up
drawing-tag-top-line = Last line: { $length } down
drawing-tag-timber-below = Rafter
drawing-tag-boards = Boards { $thickness }
drawing-tag-insulation = Insulation { $thickness }
drawing-tag-purlin = Purlin { $width } × { $depth }
drawing-tag-purlin-along = Purlin
drawing-tag-nail = Nail { $length }
drawing-tag-bite = Nail bites { $bite }
drawing-tag-sheet = Sheet { $height } deep
drawing-tag-side-lap = { $lap ->
    [one] Lap of 1 corrugation
   *[other] Lap of { $lap } corrugations
}
drawing-tag-screw = Screw { $length }, from inside
drawing-tag-screw-cover = Screw stops { $length } short
drawing-tag-eaves-filler = Eaves filler
drawing-tag-ridge-piece = Ridge piece, { $wing } wing
drawing-tag-top-piece = Top piece, { $wing } wing
drawing-tag-nail-inside = Nail { $length } inside
drawing-tag-flashing = Flashing, { $wing } wing
drawing-says-purlins-on-deck = Purlins lie on boards { $deck } thick; the sheets lie on the purlins.
drawing-says-deck = The sheets lie on boards { $deck } thick.
drawing-says-on-purlins = Purlins lie on the timbers; the sheets lie on the purlins.
drawing-says-panel = { $panel }:
drawing-says-nail = The nail is { $length } long and bites { $bite } or more.
