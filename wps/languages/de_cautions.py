"""Cautions, conditions and the state of a sheet in German."""

from wps.languages.notes import TRANSLATED
from wps.sheet_cautions import ARC, DEFERENCE, MACHINE, ROBOT

CAUTIONS = {
    "Arc": "Lichtbogen",
    "Fume": "Rauch",
    "Fire": "Brand",
    "Shock": "Stromschlag",
    "Hot metal": "Heißes Metall",
    "Robot cell": "Roboterzelle",
    "Machine": "Maschine",
    "This procedure": "Diese Schweißanweisung",
    dict(ARC)["Arc"]: (
        "Die Strahlung verbrennt Augen und Haut in Sekunden: Schutzstufe passend zum Strom, Haut bedeckt, Schirme zu."
    ),
    dict(ARC)["Fume"]: (
        "Kopf aus der Rauchfahne, Absaugung am Lichtbogen eingeschaltet. In engen Räumen verdrängt Gas die Luft: "
        "nur mit Erlaubnisschein und Sicherungsposten."
    ),
    dict(ARC)["Fire"]: (
        "Brennbares wegräumen oder abdecken, auch hinter dem Teil. Brandwache während des Schweißens und danach."
    ),
    dict(ARC)["Shock"]: (
        "Trockene Handschuhe, unbeschädigte Kabel, Rückleitung am Werkstück. Elektrode und Werkstück nie mit bloßer "
        "Haut berühren."
    ),
    dict(ARC)["Hot metal"]: (
        "Noch lange nach dem Lichtbogen heiß: kennzeichnen, mit Handschuh fassen, Schlacke und Spritzer auf "
        "niemanden fallen lassen."
    ),
    ROBOT[1]: (
        "Gesicherter Bereich: niemand darin, solange Antriebe unter Spannung stehen. Vor dem Betreten "
        "freischalten und sichern, den Schlüssel behält, wer darin ist. Roboter und Wendevorrichtung laufen "
        "ohne Warnung an: Spannmittel geprüft, Drehbereich frei, Wendevorrichtung steht, bevor Hände "
        "hineingreifen."
    ),
    MACHINE[1]: (
        "Fahrwerk, Drehtisch und Drahtvorschub bewegen sich von selbst: Hände und Kabel weg, Halt-Taster in Reichweite."
    ),
    DEFERENCE: (
        "Dieses Blatt hilft, doch es ersetzt nie den Text der genannten Normen, örtliche Vorschriften und "
        "Gesetze und das Urteil der dafür zugelassenen und befähigten Personen. Wo es von ihnen abweicht, gelten "
        "diese. Im Zweifel anhalten und die Schweißaufsicht fragen."
    ),
    TRANSLATED: (
        "Übersetzt aus dem englischen Blatt, das geprüft und freigegeben wurde; im Zweifel gilt das "
        "englische. Eigene Worte der Verfasser stehen, wie sie geschrieben wurden."
    ),
    "Some ranges rest on rules not yet compared with the standard's text: the full specification names them.": (
        "Einige Bereiche beruhen auf Regeln, die noch nicht mit dem Text der Norm verglichen wurden: "
        "die vollständige Anweisung nennt sie."
    ),
    "Converted from SI by exact factors, ranges rounded inwards; the SI figures on file rule.": (
        "Aus SI mit genauen Faktoren umgerechnet, Bereiche nach innen gerundet; es gelten die SI-Werte der Akte."
    ),
    "What an author wrote in words keeps the units it was written in.": (
        "Eigene Worte der Verfasser behalten die Einheiten, in denen sie geschrieben wurden."
    ),
    "DRAFT": "ENTWURF",
    "NOT APPROVED": "NICHT FREIGEGEBEN",
    "SUPERSEDED": "ERSETZT",
    "WITHDRAWN": "ZURÜCKGEZOGEN",
    "DRAFT – not for production.": "ENTWURF – nicht für die Fertigung.",
    "Preliminary (pWPS): no record supports it yet.": "Vorläufig (pWPS): noch durch keinen Nachweis gestützt.",
    "none: preliminary specification (pWPS)": "keine: vorläufige Schweißanweisung (pWPS)",
}
