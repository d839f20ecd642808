# What a hold answers (topics/holds.toml). Caution first; nothing here says that a stop is lifted.


hold-asbestos-recalled = The plan still waits for the asbestos test. Please leave the old sheets alone and stay off them.
hold-asbestos-touched = Stop, and go away from it. Do not sweep or vacuum. Keep everybody away, wash your hands and face, and put dusty clothes into a bag that you close. Then ring your council or a licensed asbestos firm and tell them what happened. If anybody feels ill, ring a doctor.
hold-asbestos-mask = No mask makes it safe. The finest dust goes through or past most masks, and it stays on clothes, tools and the ground for others to breathe. So please leave the sheets alone until they are tested.
hold-asbestos-clean = No. Do not wash, brush, scrape or jet it, moss or no moss: that is how the dust gets out. Leave it as it is until it is tested.
hold-asbestos-cut = No. Do not drill, cut, nail, screw, sand or break it, not even once. Leave it alone until it is tested.
hold-asbestos-cover = No. Even to lay new sheets on top, somebody has to climb and fix something up there. Please do not paint or seal it either. When the test is done, I can say what comes next.
hold-asbestos-dispose = Please do not move it yet. Old sheets with asbestos may not go into a bin or a skip. Your council can say where they may go, and who may take them there.
hold-asbestos-remove = Please do not take it off yourself while nobody knows. If the test is clear, it comes off like other old sheets, and I plan on. If it holds asbestos, your council or a licensed firm says who may take it off.
hold-asbestos-cost = I know no price for a test. The council or the firm that does it can tell you before they come. Until then, please leave the sheets alone.
hold-asbestos-sample = Please do not break a piece off: breaking it is what sets the dust free. Whoever takes the sample sends it to a laboratory that is approved for asbestos. Your council can name one.
hold-asbestos-how-long = I cannot say how long a test takes: ask when you ring. I keep your answers, so come back when the result is here.
hold-asbestos-leave-alone = Sheets that are whole and that nobody touches let out little dust. Danger begins when somebody cuts, breaks, brushes or climbs on them. Keep people and animals off, and have them tested.
hold-asbestos-look = Nobody can tell by looking or by touch. Hard grey sheets or boards from before 2000 may hold it. Only a test of a sample can say.
hold-asbestos-tell = When you have the result, press “Tested, and clear” or “It holds asbestos”. If it is clear, I ask who tested it, and the plan goes on.
hold-asbestos-meanwhile = Stay off it, keep others off, and look at it from the ground only. Your answers are kept. Nothing else has to be done until the test is there.
hold-asbestos-call = Ring your council and ask who deals with asbestos, or ring a licensed asbestos firm. I know no numbers: your council's is on its website and its letters. Keep everybody off the sheets until then.
hold-asbestos-who-tests = Ring your council, or a licensed asbestos firm. They send somebody who is trained to take a sample, or tell you who does. A laboratory tests it. Please do not take a sample yourself.
hold-asbestos-press = I will not plan round this, whoever asks. The dust can kill years later. A test is the way on.
hold-asbestos-misheard = Once asbestos may be there, only a test settles it, even if I misheard you: better one test too many. If something else is on your roof, say “change what is on the roof”, and have anything grey and hard tested all the same.

hold-line-recalled = The plan still waits because of the line. Please do not go up, and carry nothing long near it.
hold-line-contact = If anything touches a line: touch nothing and nobody, stay well away, keep others away, and call your local emergency number. Say that a line is touched. Do not go back until those who run it say so.
hold-line-move = No. Never touch, lift, tie back or prop up a line, with anything: no broom, no wood, no rope, no gloves. Only the people who run it may move it.
hold-line-insulated = Please do not trust the cover. It may be there only against the weather, and it cracks with age. Treat it as bare and live until those who run it say otherwise.
hold-line-switch-off = Only the people who run the line can switch it off, and only they can say that it is off. Your own main switch does not make the line to your house dead. Ask them for a day.
hold-line-ladder = No ladder makes it safe. Damp or dirty wood carries power, and so does what you hold. Keep every ladder away until those who run the line have said what may be done.
hold-line-other-side = No. A long sheet swings in the wind and a ladder can slip, on any side. Keep off the whole roof until those who run the line have said where you may work.
hold-line-how-far = How far is far enough depends on the line. Only the people who run it can say. Power can jump a gap, so no distance that we guess is safe. When they have told you, press “Cleared by the operator”, and I write down how far it is.
hold-line-phone = From the ground you cannot be sure: a phone line and a power line can look alike. Treat it as live. The company whose sign is on the pole can tell you what it is. If they say you may work, press “Cleared by the operator”.
hold-line-cost = I know no price for that. The company that runs the line can tell you, before anything is done, what a visit costs and what it costs to cover the line or switch it off.
hold-line-how-long = I cannot say how soon they come: ask when you ring. I keep your answers, so come back when they have been.
hold-line-tell = When they have been and say that you may work, press “Cleared by the operator”. I then ask for the day and for how far the line is, and the plan goes on with both written in it.
hold-line-whom = Ring the company that runs the lines where you live, the network operator. Its name and number are on your electricity bill, and often on a sign on the pole. Tell them that you work with ladders and long sheets near their line.
hold-line-press = I will not plan round a line, whoever asks. It kills without a touch and without a warning. The people who run it are the way on.
hold-line-misheard = If there is no line near the roof, press “None near”. A lead on the ground for your drill is no line overhead. But if any line is where a ladder or an upright sheet could come near it, it counts, whoever's it is.

hold-rot-recalled = The plan still waits because of the timbers. Please stay off the roof and out from under it until they are mended or found sound.
hold-rot-felt = Soft felt is no rot. Try the wood itself, from below: push a screwdriver into it. If the timbers are hard and dry everywhere, press “All sound”. If any of it is soft, it counts.
hold-rot-misheard = If I misheard you, press the answer that is true. Press “All sound” only if all the roof's timbers are hard, dry and straight, tried from below. Nothing you type beside that lifts this.
hold-rot-go-up = No. Please do not stand, sit or lie on it, not even on boards and not even for a moment. Boards do not help where the timber below is weak. Look from below, from firm ground.
hold-rot-put-over = No. New sheets only hide it. The rot goes on below, the nails lose their hold, and somebody can fall through. Mend the timber first.
hold-rot-myself = Please let somebody who knows timber say what has to be done. Filler and hardener do not give wood its strength back, and a prop in the wrong place makes it worse. If you mend it with their advice, press “Repaired” when it is done.
hold-rot-how-much = One bad timber is enough to stop for: people, sheets and nails rest on it. Somebody who knows timber must say what may stay.
hold-rot-worm = Small round holes in hard wood can be old. Fresh dust below them means that worms are at work. Have somebody who knows timber look, and press “Repaired” or “All sound” when they have.
hold-rot-damp = Damp is not rot yet, but it leads there. Find where the water comes in, let the wood dry, and then try it with a screwdriver from below.
hold-rot-cost = I know no price for that. A carpenter or builder can tell you after a look. Ask for it in writing before they begin.
hold-rot-how-long = I cannot say how long a repair takes: that depends on what they find. I keep your answers, so come back when it is done.
hold-rot-tell = When it is mended, press “Repaired”. I ask who did it and when, and the plan goes on. If somebody who knows timber found nothing wrong, press “All sound”.
hold-rot-who = A carpenter or a builder. Ask them to look at all the roof's timbers, to mend what is weak, and to tell you what they did.
hold-rot-how-to-test = From below or inside, on firm ground, with a torch: push a screwdriver into the wood, at the ends, where it meets the walls, and where it is dark. Sound wood is hard and stops it. Rotten wood lets it in. Sight along the eaves and the top: both should be straight. Do not climb up for it.
hold-rot-press = I will not plan round weak timber, whoever asks. People fall through roofs like that. Mending it is the way on.

hold-fragile-recalled = The plan still waits because of the plastic or glass up there. Please do not climb on it.
hold-fragile-boards = No. Plastic and glass break under a person, and boards slip or break with them. Please do not go up on it in any way.
hold-fragile-part = One clear sheet is enough: it is where people fall through. It has to come off first, taken by somebody who is equipped for that.
hold-fragile-cost = I know no price for that. The firm that takes it off can tell you before they begin.
hold-fragile-tell = When it is off, say “change what is on the roof” and press “Nothing, it's bare”. The plan then goes on.
hold-fragile-who = Somebody who is trained and equipped for fragile roofs: a roofing firm or a builder. Ask them whether they do such work before you book.
hold-fragile-misheard = If something else is on your roof, press what is true. If any of it is plastic or glass, it counts.
