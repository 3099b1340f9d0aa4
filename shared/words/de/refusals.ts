import { recordings } from './recordings.ts';

/**
 * Why the server refuses, what is wrong with a value and what it asks about, by its English. "{}"
 * stands for what varies; the page fetches it once it stands.
 */
export const refusals: Readonly<Record<string, string>> = {
  ...recordings,
  'there is no arc {}': 'Diesen Lichtbogen ({}) gibt es nicht.',
  'there is no sensor "{}"': 'Einen Sensor „{}“ gibt es nicht.',
  'there is no check {}': 'Die Prüfung {} gibt es nicht.',
  'there is no person {}': 'Die Person {} gibt es nicht.',
  'there is no such person': 'Diese Person gibt es nicht.',
  'there is no job {}': 'Den Auftrag {} gibt es nicht.',
  'there is no set-up {}': 'Die Einstellung {} gibt es nicht.',
  'there is no coupon {}': 'Die Probenaht {} gibt es nicht.',
  'no circuit {}': 'Den Stromkreis {} gibt es nicht.',
  'no plate {}': 'Das Leistungsschild {} gibt es nicht.',
  'no circuit {} in use': 'Der Stromkreis {} ist nicht in Gebrauch.',
  'no plate {} in use': 'Das Leistungsschild {} ist nicht in Gebrauch.',
  'wait: an arc is burning here': 'Warten: hier brennt ein Lichtbogen.',
  'no feeder {}': 'Die Speiseleitung {} gibt es nicht.',
  'no circuit or no plate in use has that id':
    'Dieser Stromkreis oder dieses Leistungsschild ist nicht in Gebrauch.',
  'no machine or no circuit is set for this sensor':
    'Für diesen Sensor ist keine Maschine oder kein Stromkreis angegeben.',
  'no machine was named for this arc': 'Für diesen Lichtbogen war keine Maschine genannt.',
  'the circuit was not described': 'Der Stromkreis war nicht beschrieben.',
  'the waveform was given up to make room':
    'Die Kurvenform ist nicht mehr da: Sie hat Platz gemacht.',
  'the sensor of that time is not known': 'Der Sensor von damals ist nicht bekannt.',
  'no whole window of 10 or 12 cycles lies there':
    'Dort liegt kein ganzes Fenster von 10 oder 12 Perioden.',
  'at most {} days are kept': 'Aufbewahrt werden höchstens {} Tage.',
  '"{}" is no name of this machine': '„{}“ ist kein Name dieses Rechners.',
  'the page of {} may not ask {}': 'Die Seite von {} darf {} nicht fragen.',
  'a proxy needs --trusted-proxy at the start':
    'Für einen Proxy muss Stiffline mit --trusted-proxy gestartet sein.',
  'the code is on the screen where it was started':
    'Der Code steht auf dem Bildschirm, an dem gestartet wurde.',
  'eight digits are needed, as they were printed':
    'Nötig sind acht Ziffern, so wie sie dort stehen.',
  'this is for people who may {}': 'Dafür muss jemand angemeldet sein, der es darf.',
  '{} may {}; this is for who may {}': '{} darf das nicht.',
  '{} machines times circuits, {} needs; here up to {} and {} are taken: {}':
    '{} Maschinen mal Stromkreise und {} Arbeiten sind zu viel, hier gehen bis {} und {}: ' +
    '„stiffline plan“ nimmt mehr.',
  '"to" must be after "from"': 'Das Ende muss nach dem Anfang liegen.',
  '"from" and "to" are times': 'Anfang und Ende müssen Zeiten sein.',
  'timeZone "{}" is no IANA time zone': 'Die Zeitzone „{}“ gibt es nicht.',
  'it hangs on the sensor "{}": set another there':
    'Es hängt am Sensor „{}“: dort zuerst anderes angeben.',
  'it hangs on the feeder "{}": take it off':
    'Es hängt an der Speiseleitung „{}“: dort zuerst herausnehmen.',
  'there are {} circuits already': 'Es sind schon {} Stromkreise.',
  'there are {} plates already': 'Es sind schon {} Leistungsschilder.',
  'there are {} feeders already': 'Es sind schon {} Speiseleitungen.',
  'there are {} people already': 'Es sind schon {} Leute benannt.',
  '{} changed {} "{}" meanwhile: it is at version {}':
    '{} hat „{2}“ inzwischen geändert: Es steht bei Version {3}.',
  'job {} is closed': 'Der Auftrag {} ist geschlossen.',
  'a job has {} set-ups at the most': 'Ein Auftrag hat höchstens {} Einstellungen.',
  'a set-up has {} coupons at the most': 'Eine Einstellung hat höchstens {} Probenähte.',
  'arcs has {}, which was not welded on it': 'Der Lichtbogen {} gehört nicht zu dieser Probenaht.',
  'coupon {} is decided: it stays so': 'Die Probenaht {} ist entschieden: dabei bleibt es.',
  'set-up {} has ended': 'Die Einstellung {} ist beendet.',
  'the first person must be a lead': 'Die erste Person muss leiten.',
  'name "{}" is taken already': 'Den Namen „{}“ hat schon jemand.',
  'make somebody else a lead first': 'Zuerst jemand anderen leiten lassen.',
  'after wrong PINs, try again in {} s': 'Nach falschen PINs: nächster Versuch in {} s.',
  'try again in {} s': 'Nächster Versuch in {} s.',
  'too many tries: try again in a minute': 'Zu viele Versuche: nächster in einer Minute.',
  'more than {} kB: no more is taken at once': 'Mehr als {} kB, und mehr geht nicht auf einmal.',
  'see the log of the server': 'Näheres steht im Protokoll des Servers.',
  'try again': 'Noch einmal versuchen.',
  'this person was changed just now; try again':
    'Diese Person wurde eben geändert. Noch einmal versuchen.',
  '{} is needed: nobody is signed in': 'Ein Name fehlt: Niemand ist angemeldet.',
  '{}: {} samples/s; at most {} are measured':
    '{}: {} Werte in der Sekunde, gemessen werden höchstens {}.',
  '{}: holds no samples': '{}: enthält keine Messwerte.',
  'other recordings are being judged: try again soon':
    'Andere Aufzeichnungen werden gerade beurteilt: gleich noch einmal versuchen.',
  'a multipart/form-data with a file is needed': 'Nötig ist eine Datei.',
  'no part "recording" with a file in it: a .csv, a .cff, or a .cfg with its .dat is needed':
    'Keine Datei: nötig ist eine .csv, eine .cff oder eine .cfg mit ihrer .dat.',
  '{} files; at most a .cfg with its .dat':
    '{} Dateien, es gehen höchstens eine .cfg und ihre .dat.',
  'the form ends early, or is no multipart/form-data': 'Das Formular kam nicht ganz an.',
  'no part "about" with JSON': 'Es fehlt, worauf sich die Aufzeichnung bezieht.',
  'the part "about" is no JSON': 'Worauf sich die Aufzeichnung bezieht, lässt sich nicht lesen.',
  '{}: no bead of some length was seen in it':
    '{}: Darin war keine Probenaht von einiger Länge zu sehen.',
  'has awg and mm2: give one of them': 'hat AWG und mm²: nur eines angeben',
  'has feet and metres: give one of them': 'hat Fuß und Meter: nur eines angeben',
  'has mm and inches: give one of them': 'hat mm und Zoll: nur eines angeben',
  'is of a single-phase 120/240 V circuit alone: leave it out':
    'gehört nur zu einem einphasigen Stromkreis mit 120/240 V: weglassen',
  'is of breakers up to 125 A alone: leave it out':
    'gehört nur zu Leitungsschutzschaltern bis 125 A: weglassen',
  'is of metric wire alone: leave it out': 'gehört nur zu metrischen Leitungen: weglassen',
  'is of AWG wire alone: leave it out': 'gehört nur zu AWG-Leitungen: weglassen',
  'must be 70 (PVC) or 90 (XLPE) for metric wire':
    'muss bei metrischen Leitungen 70 (PVC) oder 90 (VPE) sein',
  'must be 60, 75 or 90 for AWG wire': 'muss bei AWG-Leitungen 60, 75 oder 90 sein',
  'must be under the {} °C of its insulation': 'muss unter den {} °C der Isolierung liegen',
  'has no size: give awg or mm2': 'hat keinen Querschnitt: AWG oder mm² angeben',
  'has no size: give awg, kcmil or mm2': 'hat keinen Querschnitt: AWG, kcmil oder mm² angeben',
  'has two sizes: give one of awg, kcmil and mm2': 'hat zwei Querschnitte: nur einen angeben',
  'has no length: give feet or metres': 'hat keine Länge: Fuß oder Meter angeben',
  'has no length: give mm or inches': 'hat keine Länge: mm oder Zoll angeben',
  'is named twice': 'ist zweimal genannt',
  'is "{}", and no circuit has that name': 'ist „{}“, und so heißt kein Stromkreis',
  'is {}, and no circuit has that number': 'ist {}, und diesen Stromkreis gibt es nicht',
  'is "{}", which is retired': 'ist „{}“, und der ist ausgemustert',
  'is "{}", which hangs on "{}" already': 'ist „{}“ und hängt schon an „{}“',
  'hangs on "{}" already': 'hängt schon an „{}“',
  'is "{}", as another feeder is: give each its own':
    'ist „{}“ wie bei einer anderen Speiseleitung: jeder einen eigenen geben',
  'is "{}", as [{}] is: give each its own': 'ist „{}“ wie bei [{}]: jedem einen eigenen geben',
  'is "{}", as another gun\'s is': 'ist „{}“ wie bei einem anderen Brenner',
  'must be a list': 'muss eine Liste sein',
  'must be an object': 'muss ein Objekt sein',
  'has {} entries; {} to {} are taken': 'hat {} Einträge, möglich sind {} bis {}',
  'is missing: no gun says them for itself': 'fehlt: kein Brenner nennt sie für sich',
  'is missing: what is not owned has a price': 'fehlt: was nicht vorhanden ist, hat einen Preis',
  'must hold {}, which is {}': 'muss {} enthalten, nämlich {}',
  'must not be over I1max, which is {} A': 'darf nicht über I₁max liegen, das ist {} A',
  'must be readable text without control characters': 'muss lesbarer Text ohne Steuerzeichen sein',
  'is missing': 'fehlt',
  'is not a known key': 'ist hier nicht vorgesehen',
  'must be one of {}': 'muss eines davon sein: {}',
  'must be > {}': 'muss größer als {} sein',
  'must be >= {}': 'muss mindestens {} sein',
  'must be < {}': 'muss kleiner als {} sein',
  'must be <= {}': 'darf höchstens {} sein',
  'must be number': 'muss eine Zahl sein',
  'must be integer': 'muss eine ganze Zahl sein',
  'must be string': 'muss Text sein',
  'must be {}': 'muss {} sein',
  'must not have fewer than {} items': 'braucht mindestens {} Einträge',
  'must not have more than {} items': 'nimmt höchstens {} Einträge',
  'must not have fewer than {} characters': 'braucht mindestens {} Zeichen',
  'must not have more than {} characters': 'nimmt höchstens {} Zeichen',
  '{}: {} has {} V on a feeder of {} V. Is a transformer between? {}':
    '{}: {} hat {} V an einer Speiseleitung von {} V. Ist ein Transformator dazwischen? Die ' +
    'Ströme sind gezählt, als wäre keiner da.',
  '{}: {} has three phases, the feeder one. Is that so?':
    '{}: {} hat drei Phasen, die Speiseleitung eine. Stimmt das?',
  "{}: the {} A breaker of {} is larger than the feeder's {} A. Are both read right?":
    '{}: Der Leitungsschutzschalter von {1} A an {2} ist größer als der der Speiseleitung von ' +
    '{3} A. Ist beides richtig gelesen?',
  '{}: {} machines at once are more than its {} circuits.':
    '{}: {} Maschinen zugleich sind mehr als ihre {} Stromkreise.',
  '{}, gun "{}": it pulses, and the plate says that the machine does not.':
    '{}, Brenner „{}“: Er pulst, und nach dem Leistungsschild pulst die Maschine nicht.',
  '{}, gun "{}": the plate names no {} in wire.':
    '{}, Brenner „{}“: Das Leistungsschild nennt keinen Draht von {} Zoll.',
  '{}, gun "{}": the machine is not said to do {}.':
    '{}, Brenner „{}“: Dieses Verfahren ist für die Maschine nicht genannt: {}.',
  '{}: {} W come out and {} VA go in at {} V and I1max {} A. Is the plate read right?':
    '{}: {} W kommen heraus und {} VA gehen hinein, bei {} V und I₁max {} A. Ist das ' +
    'Leistungsschild richtig gelesen?',
  '{}: {} W out of {} VA at {} V is little for a welding machine. Is I1max read right?':
    '{}: {} W aus {} VA bei {} V sind wenig für eine Schweißmaschine. Ist I₁max richtig ' +
    'gelesen?',
  "{}: I1eff {} A at {} V does not fit I1max {} A at the plate's duty, which makes about {} A.":
    '{}: I₁eff {} A bei {} V passt nicht zu I₁max {} A bei der Einschaltdauer des Schilds, ' +
    'das gäbe etwa {} A.',
  '{}: a {} A receptacle on a {} A breaker is lawful for a welder alone. {}':
    '{}: Eine Steckdose von {} A an einem Leitungsschutzschalter von {} A ist nur für eine ' +
    'Schweißmaschine allein zulässig. Wird dort je etwas anderes eingesteckt?',
};
