# The questions and their answers.

ask-covering-now = What is the covering now?
why-covering-now = The plan needs the covering now.
how-covering-now = Measure or look at the covering now.
example-covering-now = Answer in a few words.
unsure-covering-now = Have a look, or ask somebody who knows.
fact-covering-now = covering now
choice-covering-now-nothing = Nothing
choice-covering-now-felt = Felt
choice-covering-now-bitumen_sheets = Bitumen sheets
choice-covering-now-metal_sheets = Metal sheets
choice-covering-now-tiles_or_slates = Tiles or slates
choice-covering-now-plastic_or_glass = Plastic or glass
choice-covering-now-grey_cement_sheets = Grey cement sheets
choice-covering-now-not_sure = Not sure

ask-asbestos-test = What is the asbestos test?
why-asbestos-test = The plan needs the asbestos test.
how-asbestos-test = Measure or look at the asbestos test.
example-asbestos-test = Answer in a few words.
unsure-asbestos-test = Have a look, or ask somebody who knows.
fact-asbestos-test = asbestos test
choice-asbestos-test-tested_clear = Tested clear
choice-asbestos-test-not_tested = Not tested
choice-asbestos-test-contains_asbestos = Contains asbestos

ask-structure = What is the structure?
why-structure = The plan needs the structure.
how-structure = Measure or look at the structure.
example-structure = Answer in a few words.
unsure-structure = Have a look, or ask somebody who knows.
fact-structure = structure
choice-structure-sound = Sound
choice-structure-rotten_or_sagging = Rotten or sagging
choice-structure-might_not_hold_weight = Might not hold weight
choice-structure-not_sure = Not sure

ask-overhead-lines = What is the overhead lines?
why-overhead-lines = The plan needs the overhead lines.
how-overhead-lines = Measure or look at the overhead lines.
example-overhead-lines = Answer in a few words.
unsure-overhead-lines = Have a look, or ask somebody who knows.
fact-overhead-lines = overhead lines
choice-overhead-lines-none = None
choice-overhead-lines-near = Near
choice-overhead-lines-not_sure = Not sure

ask-form = What is the form?
why-form = The plan needs the form.
how-form = Measure or look at the form.
example-form = Answer in a few words.
unsure-form = Have a look, or ask somebody who knows.
fact-form = form
choice-form-single_slope = Single slope
choice-form-two_slopes = Two slopes

ask-slopes-equal = What is the slopes equal?
why-slopes-equal = The plan needs the slopes equal.
how-slopes-equal = Measure or look at the slopes equal.
example-slopes-equal = Answer in a few words.
unsure-slopes-equal = Have a look, or ask somebody who knows.
fact-slopes-equal = slopes equal
choice-slopes-equal-yes = Yes
choice-slopes-equal-no = No

ask-pitch = What is the pitch?
why-pitch = The plan needs the pitch.
how-pitch = Measure or look at the pitch.
example-pitch = Answer in a few words.
unsure-pitch = Have a look, or ask somebody who knows.
fact-pitch = pitch

ask-pitch-back = What is the pitch back?
why-pitch-back = The plan needs the pitch back.
how-pitch-back = Measure or look at the pitch back.
example-pitch-back = Answer in a few words.
unsure-pitch-back = Have a look, or ask somebody who knows.
fact-pitch-back = pitch back

ask-base = What is the base?
why-base = The plan needs the base.
how-base = Measure or look at the base.
example-base = Answer in a few words.
unsure-base = Have a look, or ask somebody who knows.
fact-base = base
choice-base-boards = Boards
choice-base-plywood = Plywood
choice-base-osb = Osb
choice-base-purlins = Purlins
choice-base-rafters = Rafters

ask-deck-thickness = What is the deck thickness?
why-deck-thickness = The plan needs the deck thickness.
how-deck-thickness = Measure or look at the deck thickness.
example-deck-thickness = Answer in a few words.
unsure-deck-thickness = Have a look, or ask somebody who knows.
fact-deck-thickness = deck thickness

ask-timber-spacing = What is the timber spacing?
why-timber-spacing = The plan needs the timber spacing.
how-timber-spacing = Measure or look at the timber spacing.
example-timber-spacing = Answer in a few words.
unsure-timber-spacing = Have a look, or ask somebody who knows.
fact-timber-spacing = timber spacing

ask-length = What is the length?
why-length = The plan needs the length.
how-length = Measure or look at the length.
example-length = Answer in a few words.
unsure-length = Have a look, or ask somebody who knows.
fact-length = length

ask-slope-length = What is the slope length?
why-slope-length = The plan needs the slope length.
how-slope-length = Measure or look at the slope length.
example-slope-length = Answer in a few words.
unsure-slope-length = Have a look, or ask somebody who knows.
fact-slope-length = slope length

ask-slope-length-back = What is the slope length back?
why-slope-length-back = The plan needs the slope length back.
how-slope-length-back = Measure or look at the slope length back.
example-slope-length-back = Answer in a few words.
unsure-slope-length-back = Have a look, or ask somebody who knows.
fact-slope-length-back = slope length back

ask-span = What is the span?
why-span = The plan needs the span.
how-span = Measure or look at the span.
example-span = Answer in a few words.
unsure-span = Have a look, or ask somebody who knows.
fact-span = span

ask-rise = What is the rise?
why-rise = The plan needs the rise.
how-rise = Measure or look at the rise.
example-rise = Answer in a few words.
unsure-rise = Have a look, or ask somebody who knows.
fact-rise = rise

ask-rafter-overhang = What is the rafter overhang?
why-rafter-overhang = The plan needs the rafter overhang.
how-rafter-overhang = Measure or look at the rafter overhang.
example-rafter-overhang = Answer in a few words.
unsure-rafter-overhang = Have a look, or ask somebody who knows.
fact-rafter-overhang = rafter overhang

ask-wall-top = What is the wall top?
why-wall-top = The plan needs the wall top.
how-wall-top = Measure or look at the wall top.
example-wall-top = Answer in a few words.
unsure-wall-top = Have a look, or ask somebody who knows.
fact-wall-top = wall top
choice-wall-top-yes = Yes
choice-wall-top-no = No

ask-wall-side = What is the wall side?
why-wall-side = The plan needs the wall side.
how-wall-side = Measure or look at the wall side.
example-wall-side = Answer in a few words.
unsure-wall-side = Have a look, or ask somebody who knows.
fact-wall-side = wall side
choice-wall-side-none = None
choice-wall-side-left = Left
choice-wall-side-right = Right
choice-wall-side-both = Both

ask-wind-from = What is the wind from?
why-wind-from = The plan needs the wind from.
how-wind-from = Measure or look at the wind from.
example-wind-from = Answer in a few words.
unsure-wind-from = Have a look, or ask somebody who knows.
fact-wind-from = wind from
choice-wind-from-left = Left
choice-wind-from-right = Right
choice-wind-from-front = Front
choice-wind-from-back = Back
choice-wind-from-not_sure = Not sure

ask-insulation = What is the insulation?
why-insulation = The plan needs the insulation.
how-insulation = Measure or look at the insulation.
example-insulation = Answer in a few words.
unsure-insulation = Have a look, or ask somebody who knows.
fact-insulation = insulation
choice-insulation-yes = Yes
choice-insulation-no = No

ask-sheet = What is the sheet?
why-sheet = The plan needs the sheet.
how-sheet = Measure or look at the sheet.
example-sheet = Answer in a few words.
unsure-sheet = Have a look, or ask somebody who knows.
fact-sheet = sheet
choice-sheet-fennick-sheet-2000 = Fennick sheet 2000
choice-sheet-fennick-sheet-3000 = Fennick sheet 3000
choice-sheet-label = Label
