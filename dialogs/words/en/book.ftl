# What each rule says. A rule's own figures go by the names they have in the rule files, without the unit:
# $end_lap, $max_purlin_spacing; $from and $to are the ends of its band.

rule-slope-under-5 =
    Corrugated sheets do not keep rain out on a slope under { $to }. Water stands on them and creeps under the laps.
    A flat roof wants a covering without open joints, fitted for flat roofs. Or the slope can be made steeper.
    A roofer can tell you which suits your roof.
rule-slope-5-to-10 =
    From { $from } up to { $to } the sheets lie on a full deck. Each sheet laps the one below by { $end_lap },
    and its neighbour by { $side_lap_corrugations } { $side_lap_corrugations ->
        [one] corrugation
       *[other] corrugations
    }.
rule-slope-10-to-15 =
    From { $from } up to { $to } purlins stand no more than { $max_purlin_spacing } apart, centre to centre.
    Each sheet laps the one below by { $end_lap }, and its neighbour by { $side_lap_corrugations } { $side_lap_corrugations ->
        [one] corrugation
       *[other] corrugations
    }.
rule-slope-15-up =
    At { $from } and more purlins stand no more than { $max_purlin_spacing } apart, centre to centre.
    Each sheet laps the one below by { $end_lap }, and its neighbour by { $side_lap_corrugations } { $side_lap_corrugations ->
        [one] corrugation
       *[other] corrugations
    }.
rule-nail-lines-under-15 =
    On a deck under { $to } the lines of nails stand no more than { $max_nail_line_spacing } apart.
rule-nail-lines-15-up =
    On a deck at { $from } and more the lines of nails stand no more than { $max_nail_line_spacing } apart.

rule-deck-holds-the-nail =
    A deck must be { $min_deck_thickness } thick to hold the nails. On a thinner one, purlins go over it.
rule-deck-screw-stays-inside =
    A screw from inside holds { $screw_bite } deep in the purlin. Its point stays { $screw_point_cover } below the top.
rule-deck-screw-spacing = Along each purlin the screws from inside stand no more than { $deck_screw_spacing } apart.
rule-insulation-joint = Beside a board of insulation a joint of up to { $insulation_joint } may stay, sealed with tape or foam. A wider one takes a strip.
rule-nail-line-setback = The first and last nails in a deck stand at least { $nail_line_setback } from its edge, so that it does not split.

rule-eaves-overhang = The sheets pass the eaves by { $eaves_overhang }, so that rain drips clear.
rule-verge-overhang = The last corrugation passes the barge board by { $verge_overhang }, as a drip edge.

rule-nail-bite = Each nail bites { $nail_bite_min } to { $nail_bite_max } into a deck.
rule-nail-bite-in-purlin =
    Each nail bites { $purlin_nail_bite } or more into a purlin, as deep as the timber allows. Its point stays
    { $nail_point_cover } inside.
rule-nail-bite-by-diameter =
    Less does not count against pulling out: { $smooth_nail_bite_diameters } times its thickness for a smooth nail,
    { $ringed_nail_bite_diameters } times for a ringed or twisted one.
rule-nail-end-distance =
    From the end of a timber a nail stays { $nail_end_distance_diameters } times its thickness away, so that the end
    does not split.
rule-nail-edge-distance =
    From the edge of a sheet, or of a piece along the top, a nail stays { $nail_edge_distance } away, so that it does not
    tear out.
rule-top-lap = A piece along the top covers the sheets by { $top_lap } or more, so that rain is not driven under it.
rule-end-play =
    A roof up to { $end_play } too wide for whole columns of sheets is better made so much narrower than given one more.
rule-timber-sawing =
    Each saw cut takes { $saw_cut }, and the end of a timber is squared by { $squared_end } before pieces are cut from it.
rule-spare-timber = The list has { $spare_timber ->
        [one] one length
       *[other] { $spare_timber } lengths
    } of purlin timber more than the plan uses. One may be split or bent.
rule-fix-edges-every-corrugation =
    At the eaves there is a nail { $fix_eaves_every ->
        [one] in every corrugation
       *[other] every { $fix_eaves_every } corrugations
    }. At each end lap there is one { $fix_end_lap_every ->
        [one] in every corrugation
       *[other] every { $fix_end_lap_every } corrugations
    }.
rule-fix-between-every-other =
    On the purlins between there is a nail { $fix_intermediate_every ->
        [one] in every corrugation
       *[other] every { $fix_intermediate_every } corrugations
    }.
rule-fix-ridge-every-other =
    On ridge pieces there is a nail { $fix_ridge_every ->
        [one] in every corrugation
       *[other] every { $fix_ridge_every } corrugations
    }.

rule-spare-sheets =
    { $spare_sheets ->
        [one] One sheet more is on the list, for a wrong cut or a cracked corner.
       *[other] { $spare_sheets } sheets more are on the list, for wrong cuts or cracked corners.
    }
rule-underlay-staples = Staple the underlay every { $underlay_staple_spacing } along each strip, where the next one covers the staples.
rule-deck-board-screws = Screw each deck board to every timber it crosses, every { $deck_board_screw_spacing }.
rule-edge-board-screws = Screw barge boards and fascia every { $edge_board_screw_spacing }, two screws one above the other.
rule-flashing-fixings = Fix a flashing to its wall every { $flashing_fixing_spacing }.
rule-finial-nails = Hold each finial with { $finial_nails } nails.
rule-spare-fixings = The list has { $spare_fixings_percent } in a hundred more nails and screws than the plan uses. Some bend.

rule-doubt-about = A figure you gave as "about" may be a little off. Where that could matter, the plan takes the safe side.
rule-doubt-by-phone = A phone reads a slope to about half a degree. Where that could matter, the plan takes the safe side.
rule-measurements-agree = Two ways of measuring one thing never agree to the hair. A small difference is let pass.

rule-asbestos-suspected =
    Grey cement sheets fitted before 2000 may hold asbestos. Its dust can kill.
    Please do not touch, cut, drill, brush or wash them, and do not climb on them.
    I cannot plan this roof until a competent person has tested the sheets and found them clear.
rule-asbestos-found =
    There is asbestos in the old covering. Please leave it alone: no cutting, no drilling, no breaking, no brushing.
    A licensed asbestos contractor or your council can tell you what may be done, and by whom.
rule-structure-rotten =
    The roof's timbers are not safe to work on. Please stay off and out from under it.
    A carpenter or builder must look at it and mend it first. When that is done, press “Repaired”.
rule-structure-weak =
    A roof that might not hold you is a fragile roof. Please come down, stay off it, and keep everybody out from under it.
    Somebody who knows timber must look at it from below and mend what is weak. When that is done, press “Repaired”.
rule-structure-unknown =
    I cannot plan on timbers nobody has looked at. Look from below, from firm ground, for rot, cracks and sagging.
    If you are still not sure, ask somebody who knows timber.
rule-overhead-lines-near =
    A cable over or near the roof can kill, even without a touch. Please do not go up, and carry nothing long near it.
    Ask the company that runs the line what must be done first. If they have been and say that you may work, press “Cleared by the operator”.
rule-overhead-lines-cleared-when =
    A line counts as cleared only with the day and the distance: I write both into your plan.
    Until I have them, please do not go up, and carry nothing long near it.
rule-overhead-lines-cleared-how-far =
    The distance is still missing. Until I have it, please do not go up, and carry nothing long near the line.
rule-fragile-roof =
    Plastic and glass roofs break under a person without warning. Please do not climb on it.
    Somebody who is trained and equipped for fragile roofs must take it off.

rule-caution-line-cleared =
    There is a line near this roof. You told me how far: “{ $lines_distance }”, and when it was cleared: “{ $lines_cleared_when }”.
    If that was long ago, or the job has changed, ask those who run it again. Carry ladders, sheets and timber low and flat, never upright, and put up nothing long on that side.
rule-caution-line-cleared-again =
    Mind the line (“{ $lines_distance }”, cleared “{ $lines_cleared_when }”): move ladders, sheets and timber low and flat, and cut well away from it.
rule-caution-asbestos-tested-by =
    The old covering was tested and is clear of asbestos, you told me: “{ $asbestos_tested_by }”. Keep the paper at hand.
    That holds only for what was tested. If you find any other grey sheet, board or pipe, leave it alone and tell me.
rule-caution-asbestos-tested-by-again =
    Mind: only what was tested (“{ $asbestos_tested_by }”) is known to be clear of asbestos. If you find any other grey sheet or board, do not cut or break it: stop and tell me.
rule-caution-asbestos-tested =
    The old covering was tested and is clear of asbestos, you told me, but not who tested it. Find the paper before anybody touches or cuts it.
    It holds only for what was tested. If you find any other grey sheet, board or pipe, leave it alone and tell me.
rule-caution-asbestos-tested-again =
    Mind: have the paper of the asbestos test at hand. If you find any other grey sheet or board, do not cut or break it: stop and tell me.
rule-caution-repaired-by =
    The roof timbers were repaired, you told me: “{ $repaired_by }”. Look at the mended places from below before anybody goes up.
    If anything bends, gives or feels soft, come down and tell me.
rule-caution-repaired-by-again =
    Mind the mended timber (“{ $repaired_by }”): put no ladder, load or foot on it that it does not bear. If it bends or feels soft, come down and tell me.
rule-caution-repaired =
    The roof timbers were repaired, you told me, but not by whom. Have somebody who knows timber look at the mended places from below before anybody goes up.
    If anything bends, gives or feels soft, come down and tell me.
rule-caution-repaired-again =
    Mind the mended timber: put no ladder, load or foot on it that it does not bear. If it bends or feels soft, come down and tell me.

rule-caution-height =
    Stay off the roof if the job can be done from the ground or a platform. Work only from a secure platform or ladder.
rule-caution-step-on-nothing-fragile =
    Treat every roof as fragile until somebody competent has said it is not. Do not stand on the sheets: lie boards across the timbers.
rule-caution-protective-wear = Wear gloves, goggles and a hard hat, and shoes that grip.
rule-caution-wind = Do not go up in wind, rain or frost. Wind over 23 mph (10 metres a second) can take your balance.
rule-caution-not-alone = Do not work alone. Have somebody at the foot of the ladder who can call for help.
rule-caution-look-over-first = Look over the whole building first, the roof timbers most of all, and mend before you roof.
rule-leaflet-2000 = The leaflet of this sheet asks for end laps of { $end_lap }, and purlins no more than { $max_purlin_spacing } apart.
rule-leaflet-purlins = The leaflet of this sheet asks for purlins no more than { $max_purlin_spacing } apart, centre to centre.
rule-leaflet-flat = The leaflet of this sheet says: not on slopes under { $to }. Another sheet may do: see the list.
rule-caution-local-codes = Local building rules come first, and so does any work that only a licensed person may do. Ask your council. Follow the leaflet of the sheet that you buy, where it asks for more.

# Tools, and what to wear and stand on.

tool-hammer = hammer
tool-snips = snips
tool-knife = knife
tool-tape-measure = tape measure
tool-oiled-saw = coarse hand saw (oiled, so that it does not stick)
tool-circular-saw = circular saw (if you have one)
tool-inclinometer = inclinometer (or a phone that reads slopes)
tool-string-line = string line
tool-screwdriver = screwdriver or drill driver
wear-gloves = gloves
wear-goggles = goggles
wear-hard-hat = hard hat
access-platform = secure platform or ladder

# Lists.

list-and = { $before } and { $last }

# What a check of strength asks for: $limit is what it finds.

rule-check-purlins =
    Over timbers { $timber_spacing } apart a purlin must be at least { $limit } deep to carry a person of 1 kN, the snow
    and the wind (EN 1995-1-1 6.1.6).
rule-check-deck =
    Over timbers { $timber_spacing } apart a new deck must be at least { $limit } thick to carry a person of 1 kN and the
    snow (EN 1995-1-1 6.1.6).
