"""Why a joint is not drawn on a sheet, in German and French: the fields of a preparation, and what is wrong with one.

Terms of EN ISO 9692-1 and 17659 in their German and French editions, from memory.
"""

FIELDS_DE = {
    "kind": "Art",
    "arrangement": "Anordnung",
    "parent_t": "Werkstückdicke",
    "t1_mm": "Dicke t1",
    "t2_mm": "Dicke t2",
    "angle_deg": "Öffnungswinkel",
    "gap_mm": "Stegabstand",
    "radius_mm": "Radius am Fugengrund",
    "root_face_mm": "Steghöhe",
    "depth_mm": "Fugentiefe",
    "throat_a": "Nahtdicke a",
    "leg_z": "Schenkellänge z",
    "sides": "Seiten",
}
FIELDS_FR = {
    "kind": "type",
    "arrangement": "disposition",
    "parent_t": "épaisseur des pièces",
    "t1_mm": "épaisseur t1",
    "t2_mm": "épaisseur t2",
    "angle_deg": "angle d'ouverture",
    "gap_mm": "écartement des bords",
    "radius_mm": "rayon à fond de chanfrein",
    "root_face_mm": "talon",
    "depth_mm": "profondeur du chanfrein",
    "throat_a": "gorge a",
    "leg_z": "côté z",
    "sides": "côtés soudés",
}
PROBLEMS_DE = {
    "Not stated whether tack or final welding": "Nicht angegeben, ob Heft- oder Fertigschweißen",
    "is not stated": "ist nicht angegeben",
    "a fillet weld needs a corner": "eine Kehlnaht braucht eine Ecke",
    "state tee, lap or corner": "angeben: tee, lap oder corner",
    "state the kind as none": "als Art none angeben",
    "state the thickness of the parts, so that the joint can be drawn to scale": (
        "die Dicke der Teile angeben, damit der Stoß maßstäblich gezeichnet werden kann"
    ),
    "must be a figure or a range": "muss eine Zahl oder ein Bereich sein",
    "must be more than 0 mm": "muss größer als 0 mm sein",
    "state the angle of the groove, for example 60 for a V or 45 for a bevel": (
        "den Öffnungswinkel angeben, zum Beispiel 60 für eine V- oder 45 für eine HV-Naht"
    ),
    "state the root radius of the U or J, for example 6": (
        "den Radius am Fugengrund der U- oder HU-Naht angeben, zum Beispiel 6"
    ),
}
PROBLEMS_FR = {
    "Not stated whether tack or final welding": "Non précisé\u202f: pointage ou soudage final",
    "is not stated": "n'est pas indiqué",
    "a fillet weld needs a corner": "une soudure d'angle demande un angle entre les pièces",
    "state tee, lap or corner": "indiquer tee, lap ou corner",
    "state the kind as none": "indiquer none comme type",
    "state the thickness of the parts, so that the joint can be drawn to scale": (
        "indiquer l'épaisseur des pièces, afin que le joint puisse être dessiné à l'échelle"
    ),
    "must be a figure or a range": "doit être un nombre ou un intervalle",
    "must be more than 0 mm": "doit être supérieur à 0 mm",
    "state the angle of the groove, for example 60 for a V or 45 for a bevel": (
        "indiquer l'angle d'ouverture, par exemple 60 pour un V ou 45 pour un demi-V"
    ),
    "state the root radius of the U or J, for example 6": (
        "indiquer le rayon à fond de chanfrein du U ou du demi-U, par exemple 6"
    ),
}
SENTENCES_DE = {
    "No sketch: the preparation is not stated.": "Keine Skizze: Die Fugenvorbereitung ist nicht angegeben.",
    "depth {n}": "Tiefe {n}",
    "No sketch: {x1}: {x2}": "Keine Skizze: {x1}: {x2}",
    "use one of: {x}": "möglich sind: {x}",
    '"{x}" is not a preparation that is drawn': "„{x}“ ist keine Fugenvorbereitung, die gezeichnet wird",
    '"{x}" is not known': "„{x}“ ist nicht bekannt",
    '"{x}" is neither 1 nor 2': "„{x}“ ist weder 1 noch 2",
    "a {x} takes a fillet weld": "hier gehört eine Kehlnaht hin ({x})",
    "a {x} needs two prepared edges": "zwei vorbereitete Kanten sind nötig ({x})",
    "in a {x} one is, so state a bevel or a J": "hier ist es eine ({x}), also HV- oder HU-Naht angeben",
    "a {x} joint is not drawn": "dieser Stoß wird nicht gezeichnet ({x})",
    "must lie between 0 and {n1}°, not {n2}°": "muss zwischen 0 und {n1}° liegen, nicht bei {n2}°",
    "{n1} mm is more than the thickness drawn, {n2} mm": "{n1} mm sind mehr als die gezeichnete Dicke, {n2} mm",
}
SENTENCES_FR = {
    "No sketch: the preparation is not stated.": "Pas de croquis\u202f: la préparation n'est pas indiquée.",
    "depth {n}": "profondeur {n}",
    "No sketch: {x1}: {x2}": "Pas de croquis\u202f: {x1}\u202f: {x2}",
    "use one of: {x}": "valeurs possibles\u202f: {x}",
    '"{x}" is not a preparation that is drawn': "«\u202f{x}\u202f» n'est pas une préparation qui se dessine",
    '"{x}" is not known': "«\u202f{x}\u202f» n'est pas connu",
    '"{x}" is neither 1 nor 2': "«\u202f{x}\u202f» n'est ni 1 ni 2",
    "a {x} takes a fillet weld": "il faut ici une soudure d'angle ({x})",
    "a {x} needs two prepared edges": "il faut deux bords préparés ({x})",
    "in a {x} one is, so state a bevel or a J": "ici un seul l'est ({x})\u202f: indiquer un demi-V ou un demi-U",
    "a {x} joint is not drawn": "ce joint ne se dessine pas ({x})",
    "must lie between 0 and {n1}°, not {n2}°": "doit être compris entre 0 et {n1}°, et non {n2}°",
    "{n1} mm is more than the thickness drawn, {n2} mm": "{n1} mm dépassent l'épaisseur dessinée, {n2} mm",
}
