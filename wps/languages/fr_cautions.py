"""Cautions, conditions and the state of a sheet in French."""

from wps.languages.notes import TRANSLATED
from wps.sheet_cautions import ARC, DEFERENCE, MACHINE, ROBOT

CAUTIONS = {
    "Arc": "Arc",
    "Fume": "Fumées",
    "Fire": "Feu",
    "Shock": "Choc électrique",
    "Hot metal": "Métal chaud",
    "Robot cell": "Cellule robotisée",
    "Machine": "Machine",
    "This procedure": "Ce mode opératoire",
    dict(ARC)["Arc"]: (
        "Son rayonnement brûle les yeux et la peau en quelques secondes : filtre adapté au courant, peau "
        "couverte, écrans fermés."
    ),
    dict(ARC)["Fume"]: (
        "Tête hors du panache, aspiration en marche près de l'arc. En espace confiné le gaz chasse l'air : "
        "permis et surveillant."
    ),
    dict(ARC)["Fire"]: (
        "Écarter ou couvrir ce qui peut brûler, aussi derrière la pièce. Garde incendie pendant le soudage et après."
    ),
    dict(ARC)["Shock"]: (
        "Gants secs, câbles intacts, retour sur la pièce. Ne jamais toucher l'électrode et la pièce à peau nue."
    ),
    dict(ARC)["Hot metal"]: (
        "Chaud longtemps après l'arc : le signaler, mettre des gants, ne laisser tomber ni laitier ni "
        "projections sur personne."
    ),
    ROBOT[1]: (
        "Zone protégée : personne dedans tant que les entraînements sont sous tension. Consigner avant "
        "d'entrer, la clé reste avec celui qui est dedans. Robot et vireur démarrent sans avertir : "
        "bridages vérifiés, volume de rotation libre, vireur arrêté avant d'y mettre les mains."
    ),
    MACHINE[1]: (
        "Chariot, plateau et dévidoir bougent seuls : mains et câbles à l'écart, bouton d'arrêt à portée de main."
    ),
    DEFERENCE: (
        "Cette fiche aide et ne remplace jamais le texte des normes citées, les règles locales et la loi, ni "
        "le jugement des personnes habilitées et qualifiées. En cas d'écart, ce sont eux qui valent. En cas "
        "de doute, arrêter et demander au coordonnateur en soudage."
    ),
    TRANSLATED: (
        "Traduit de la fiche anglaise vérifiée et approuvée ; en cas de doute la version anglaise vaut. Les "
        "mots propres aux auteurs restent tels qu'écrits."
    ),
    "Some ranges rest on rules not yet compared with the standard's text: the full specification names them.": (
        "Certains domaines reposent sur des règles non encore comparées au texte de la norme : "
        "le descriptif complet les nomme."
    ),
    "Converted from SI by exact factors, ranges rounded inwards; the SI figures on file rule.": (
        "Converti du SI par facteurs exacts, domaines arrondis vers l'intérieur ; les valeurs SI du dossier valent."
    ),
    "What an author wrote in words keeps the units it was written in.": (
        "Les mots propres aux auteurs gardent les unités dans lesquelles ils ont été écrits."
    ),
    "DRAFT": "PROJET",
    "NOT APPROVED": "NON APPROUVÉ",
    "SUPERSEDED": "REMPLACÉ",
    "WITHDRAWN": "RETIRÉ",
    "DRAFT – not for production.": "PROJET – ne pas utiliser en fabrication.",
    "Preliminary (pWPS): no record supports it yet.": (
        "Préliminaire (DMOS-P) : aucune qualification ne le soutient encore."
    ),
    "none: preliminary specification (pWPS)": "aucune : descriptif préliminaire (DMOS-P)",
}
