# What is said otherwise where sheets are screwed in the hollows.

advice-purlins-side-by-side =
    Purlins { $lower } and { $upper } stand side by side, { $gap } from middle to middle. That is meant so: the lower one
    carries the lap of the sheets, the upper one the screws of the pieces along the top. Fit both.
step-square =
    Check the corner before the first screw. Mark { $along } along the eaves and { $up } up the verge.
    From mark to mark it must be { $diagonal }. Then the corner is square.
step-first-sheet =
    Lay the first sheet, piece { $mark }, at the { $start } end. It passes the eaves by { $eaves_overhang } and the barge board by { $verge_overhang }.
    Set it square to eaves and verge before you screw.
step-first-sheet-at-a-wall =
    Lay the first sheet, piece { $mark }, at the { $start } end, close against the wall. It passes the eaves by { $eaves_overhang }.
    Set it square to the eaves before you screw.
step-nail =
    Screw { $count ->
        [one] the line
       *[other] the lines
    } at { $lines } up: { $nails } screws of { $nail }, in the hollows of the sheets, as drawing 3 shows.
step-wall-side = Fit the flashing at the side wall, from the eaves up. Screw it at every line.
step-wall-top = Fit the flashing at the top wall. Its screws go through the sheets into the top line.
step-verge = Fit the verge pieces from the eaves up, each lapping the one below. Screw them at every line.
step-top-edge = Fit the pieces along the top edge. Their screws go through the sheets into the top line.
step-last-look = Look over every screw and lap, sweep off swarf and dropped screws, and look again after the first rain.
requirement-fix-eaves-every = screw spacing at the eaves, in corrugations
requirement-fix-end-lap-every = screw spacing at end laps, in corrugations
requirement-fix-intermediate-every = screw spacing between, in corrugations
requirement-fix-ridge-every = screw spacing along the ridge, in corrugations
requirement-spare-fixings-percent = spare screws in each hundred
headline-nails = { $nails } screws, { $nail } long
fixings = { $nails } screws, { $nail } long, so that each bites { $bite } or more into the wood, through all that laps there.
fixings-eaves = Eaves: every hollow ({ $nails } screws)
fixings-end-lap = { $lines ->
        [one] End lap
       *[other] End laps
    }: every hollow ({ $nails } screws)
fixings-intermediate = { $lines ->
        [one] Line
       *[other] { $lines } lines
    } between: every other hollow, and both sides of each side lap ({ $nails } screws)
fixings-top = Top: every other hollow, and both sides of each side lap ({ $nails } screws)
fixings-how = Always in a hollow, never through a top. Turn each screw until its washer sits flat, and no further.
work-first-course =
    Lay the rest of the first course: { $sheets ->
        [one] one piece
       *[other] { $sheets } pieces
    }, { $length } long: { $marks }. Each laps the one before by { $side_lap ->
        [one] one corrugation
       *[other] { $side_lap } corrugations
    }. Hold each with one screw as you go.
work-next-course =
    Lay course { $course }: { $sheets ->
        [one] one piece
       *[other] { $sheets } pieces
    }, { $length } long: { $marks }. The lower edge is { $from } up from the eaves edge, so it laps the course below by { $end_lap }. Side laps are { $side_lap ->
        [one] one corrugation
       *[other] { $side_lap } corrugations
    }. Hold each with one screw as you go.
work-nails-eaves = Screw the eaves line, { $at } up: { $nails } screws of { $nail }, one in every hollow, and none in a top.
work-nails-end-lap = Screw the lap line, { $at } up: { $nails } screws of { $nail }, in the hollows, through both courses.
work-nails-between = Screw the line { $at } up: { $nails } screws of { $nail }, in the hollows, spaced as the screw pattern shows.
work-nails-top = Screw the top line, { $at } up: { $nails } screws of { $nail }, in the hollows.
work-pieces =
    { $what } It takes { $pieces ->
        [one] one piece
       *[other] { $pieces } pieces
    }{ $nails ->
        [0] .
       *[other] {" "}and { $nails } screws.
    }
work-ridge =
    Mark the ridge line on the sheets. Fit { $pieces ->
        [one] the ridge piece
       *[other] { $pieces } ridge pieces, each lapping the next by { $lap }
    }. Screw both wings into the top lines: { $nails } screws in all. Trim the lower lapped piece for looks.
work-safe-nail =
    { $count ->
        [one] One line under your sheets is
       *[other] { $count } lines under your sheets are
    } not screwed yet: { $lines } up. Screw there first, or take the loose sheets down.
work-safe-keep-clear = Sheets are not screwed yet at { $lines } up, and wind may lift them there. Keep everybody away from below. Screw them first thing when it is calm and dry.
work-after-wind = Welcome back. Has the wind dropped? Look over every sheet and screw from the ladder first: what the wind has lifted must be screwed again.
work-name-nails = the screws at { $lines }
drawing-title-fixings = 3 Screws: { $slope }
drawing-key-nail = { $count ->
    [one] One screw, { $length }
   *[other] { $count } screws, { $length }
}
drawing-key-counts = Right: screws on the line
drawing-says-nails = { $count ->
    [one] One screw
   *[other] { $count } screws
}, each { $length } long, in a hollow of the sheet.
drawing-says-side-lap-nails = Where sheets lap at the side, screw the corrugation on each side of the lap.
drawing-tag-nail = Screw { $length }
drawing-tag-bite = Screw bites { $bite }
drawing-says-nail = The screw is { $length } long and bites { $bite } or more.
advice-nail-point-may-show =
    The screw goes { $bite } into { $depth } of timber, so a point may show inside. Mind heads, hands and cables below.
drawing-tag-nail-inside = Screw { $length } inside
rule-nail-end-distance =
    From the end of a timber a screw stays { $nail_end_distance_diameters } times its thickness away, so that the end
    does not split.
rule-nail-edge-distance =
    From the edge of a sheet, or of a piece along the top, a screw stays { $nail_edge_distance } away, so that it does not
    tear out.
requirement-nail-end-distance-diameters = distance of a screw from the end of a timber, in its thicknesses
requirement-nail-edge-distance = distance of a screw from the edge of a sheet
