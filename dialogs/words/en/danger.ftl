# One line for a danger that was heard, but not for sure. A yes stops the work, a no goes on.

danger-ask-injury = Is somebody hurt?
danger-ask-fire = Is something on fire that should not be?
danger-ask-shock = Did somebody get an electric shock?
danger-ask-collapse = Is something about to come down?
danger-ask-line = Is that an electric line near your roof?
danger-ask-asbestos = Is that about your own roof: could there be asbestos in it?
danger-ask-rot = Is that about your own roof: is some of its timber rotten, split or sagging?
danger-ask-fragile = Is that about your own roof: might it not hold you?

# For those who spoke of danger in a language that lapwise does not speak yet.

danger-elsewhere-de = lapwise spricht bisher nur Englisch. Ist jemand in Gefahr, ruf jetzt 112 an (in Großbritannien 999) oder die Notrufnummer deines Landes.
danger-elsewhere-fr = lapwise ne parle pour l'instant qu'anglais. Si quelqu'un est en danger, appelle tout de suite le 112 (999 au Royaume-Uni) ou le numéro d'urgence de ton pays.
danger-elsewhere-es = lapwise por ahora solo habla inglés. Si alguien está en peligro, llama ya al 112 (999 en el Reino Unido) o al número de emergencias de tu país.
danger-elsewhere-pl = lapwise mówi na razie tylko po angielsku. Jeśli komuś grozi niebezpieczeństwo, zadzwoń od razu pod 112 (w Wielkiej Brytanii 999) lub pod numer alarmowy swojego kraju.
danger-elsewhere-it = lapwise per ora parla solo inglese. Se qualcuno è in pericolo, chiama subito il 112 (999 nel Regno Unito) o il numero di emergenza del tuo Paese.
danger-elsewhere-pt = lapwise por enquanto só fala inglês. Se alguém está em perigo, liga já para o 112 (999 no Reino Unido) ou para o número de emergência do teu país.
danger-elsewhere-ro = lapwise vorbește deocamdată numai engleza. Dacă cineva este în pericol, sună acum la 112 (999 în Marea Britanie) sau la numărul de urgență din țara ta.
danger-elsewhere-nl = lapwise spreekt voorlopig alleen Engels. Is er iemand in gevaar, bel dan nu 112 (999 in het Verenigd Koninkrijk) of het noodnummer van je land.
