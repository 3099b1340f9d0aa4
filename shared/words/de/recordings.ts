/**
 * What is wrong in a recording, by its English: first the place, then what is wrong at it. "{…}" is
 * a reason or a thing that stands in this table itself.
 */
export const recordings: Readonly<Record<string, string>> = {
  // Any file.
  "{}: a recording's kind shows in its name's ending; .csv, .cfg (with its .dat) or .cff is needed":
    '{}: Die Art einer Aufzeichnung steht in der Endung ihres Namens: nötig ist .csv, .cfg (mit ' +
    'ihrer .dat) oder .cff.',
  '{}: the other half, {}, is not beside it': '{}: Die andere Hälfte, {}, fehlt.',
  '{}: {} samples/s; from {} to {} can be measured':
    '{}: {} Werte in der Sekunde, messen lassen sich {} bis {}.',
  '{}: line {} is longer than {} bytes; this is no text of rows':
    '{}: Zeile {} ist länger als {} Byte: Das ist kein Text aus Zeilen.',
  // CSV.
  '{}: is empty; a header "t_s,v1_V,i1_A" and rows are needed':
    '{}: Die Datei ist leer, nötig sind der Kopf „t_s,v1_V,i1_A“ und Zeilen mit Messwerten.',
  '{}: holds no header; "t_s,v1_V,i1_A" is needed':
    '{}: Es fehlt der Kopf, nötig ist „t_s,v1_V,i1_A“.',
  '{}: no header in the first {} lines; "t_s,v1_V,i1_A" is needed':
    '{}: In den ersten {} Zeilen steht kein Kopf, nötig ist „t_s,v1_V,i1_A“.',
  '{}: line {} is no text; a CSV header "t_s,v1_V,i1_A" is needed':
    '{}: Zeile {} ist kein Text, nötig ist der CSV-Kopf „t_s,v1_V,i1_A“.',
  '{}: at least 2 rows are needed to find the rate; it has {}':
    '{}: Für die Abtastrate sind mindestens 2 Zeilen mit Messwerten nötig, da sind {}.',
  '{}: column 1 (t_s) does not rise over the first {} rows; seconds are needed':
    '{}: Spalte 1 (t_s) steigt in den ersten {} Zeilen nicht an, nötig sind Sekunden.',
  '{}: line {} has {} cells where {} are needed': '{}: Zeile {} hat {} Felder, nötig sind {}.',
  '{}: the last line ({}) is cut in the middle; {} numbers are needed':
    '{}: Die letzte Zeile ({}) bricht mittendrin ab, nötig sind {} Zahlen.',
  // COMTRADE.
  '{}: is empty; rows of samples are needed':
    '{}: Die Datei ist leer, nötig sind Zeilen mit Messwerten.',
  '{}: is empty; a COMTRADE .cfg is needed':
    '{}: Die Datei ist leer, nötig ist eine .cfg nach COMTRADE.',
  '{}: is empty; a COMTRADE .cff is needed':
    '{}: Die Datei ist leer, nötig ist eine .cff nach COMTRADE.',
  '{}: line {} is no text; a COMTRADE .cfg is needed':
    '{}: Zeile {} ist kein Text, nötig ist eine .cfg nach COMTRADE.',
  '{}: {} bytes are no COMTRADE .cfg; {} are the most':
    '{}: {} Byte sind zu viel für eine .cfg nach COMTRADE, es gehen höchstens {}.',
  '{}: ends where {} is needed': '{}: Die Datei endet zu früh. Es fehlt: {…}.',
  '{}: holds {} bytes, not one row of {}':
    '{}: Die Datei hat nur {} Byte, eine einzige Zeile braucht {}.',
  '{}: is cut: {} rows are there and the .cfg promises {}':
    '{}: Die Datei bricht ab: {} Zeilen sind da, {} nennt die .cfg.',
  '{}: is cut: {} bytes of samples are there and {} are promised':
    '{}: Die Datei bricht ab: {} Byte Messwerte sind da, {} sind genannt.',
  '{}: the .cfg tells no rate and the timestamps do not rise; one of them is needed':
    '{}: Die .cfg nennt keine Abtastrate, und die Zeitstempel steigen nicht an: eines von ' +
    'beiden ist nötig.',
  '{}: no channel in {} (units here: {}); a voltage and a current are needed':
    '{}: Kein Kanal in {} (Einheiten hier: {}), nötig sind eine Spannung und ein Strom.',
  '{}: channel "{}": value = count · {} + {}; {} V or A is the most':
    '{}: Kanal „{}“: Wert = Zählwert · {} + {}, es gehen höchstens {} V oder A.',
  '{}: line {} is no section; "--- file type: CFG ---" is needed':
    '{}: Zeile {} ist kein Abschnitt, nötig ist „--- file type: CFG ---“.',
  '{}: no samples in the first {} bytes; "--- file type: DAT … ---" is needed':
    '{}: In den ersten {} Byte stehen keine Messwerte, nötig ist „--- file type: DAT … ---“.',
  '{}: ends without samples; "--- file type: DAT … ---" is needed':
    '{}: Die Datei endet ohne Messwerte, nötig ist „--- file type: DAT … ---“.',
  // Places.
  '{}: line {}, column {}: {}': '{}: Zeile {}, Spalte {}: {…}.',
  '{}: line {}: {}': '{}: Zeile {}: {…}.',
  '{}: row {}: {}': '{}: Zeile {} der Messwerte: {…}.',
  // What is wrong at a place.
  'the header has {} columns; 3, 5 or 7 are right':
    'der Kopf hat {} Spalten, richtig sind 3, 5 oder 7',
  'the header says "{}" where "{}" is needed': 'im Kopf steht „{}“, nötig ist „{}“',
  'the header ends where "{}" is needed': 'der Kopf endet, wo „{}“ nötig ist',
  'the time {} s is {} samples after the row before; at {} samples/s a whole number is right':
    'die Zeit {} s liegt {} Werte hinter der Zeile davor, richtig ist bei {} Werten in der ' +
    'Sekunde eine ganze Zahl',
  '{} is beyond {}; seconds, volts, amperes are needed':
    '{} liegt jenseits von {}, nötig sind Sekunden, Volt, Ampere',
  'the cell is empty; a number is needed': 'das Feld ist leer, nötig ist eine Zahl',
  'begins with no row number; "n,timestamp,…" is right':
    'am Anfang fehlt die Zeilennummer, richtig ist „n,Zeitstempel,…“',
  'has no timestamp, and the .cfg tells no rate':
    'der Zeitstempel fehlt, und die .cfg nennt keine Abtastrate',
  '"{}" in column {} is no number': '„{}“ in Spalte {} ist keine Zahl',
  '{} in column {} is beyond {} V or A': '{} in Spalte {} liegt jenseits von {} V oder A',
  'has {} cells where {} or more are needed': '{} Felder, nötig sind {} oder mehr',
  'is cut in the middle: it has {} cells where {} or more are needed':
    'bricht mittendrin ab: {} Felder, nötig sind {} oder mehr',
  'its timestamp lies {} samples after the row before':
    'der Zeitstempel liegt {} Werte hinter der Zeile davor',
  'its number does not follow that of the row before':
    'die Nummer folgt nicht auf die der Zeile davor',
  '"{}" counts no channels; "8,8A,0D" is right':
    '„{}“ ist keine Zahl der Kanäle, richtig ist „8,8A,0D“',
  'the analog channel has {} fields; 13 are right (10 in the 1991 edition)':
    'der analoge Kanal hat {} Felder, richtig sind 13 (10 in der Ausgabe von 1991)',
  '{} of channel "{}" is "{}"; a number is needed':
    '{…} des Kanals „{}“ ist „{}“, nötig ist eine Zahl',
  '{} is no number of sampling rates': '{} ist keine Zahl der Abtastraten',
  '"{}" is no sampling rate': '„{}“ ist keine Abtastrate',
  '"{}" is no number of a last row': '„{}“ ist keine Nummer einer letzten Zeile',
  'the rate changes from {} to {} samples/s; only recordings of one rate are read':
    'die Abtastrate wechselt von {} auf {} Werte in der Sekunde, gelesen werden nur ' +
    'Aufzeichnungen mit einer einzigen',
  'the file type is none of ASCII, BINARY, BINARY32, FLOAT32':
    'die Dateiart ist keine von ASCII, BINARY, BINARY32, FLOAT32',
  '"{}" is no number; {} is needed': '„{}“ ist keine Zahl, nötig ist: {…}',
  '"{}" is no number': '„{}“ ist keine Zahl',
  // Things of a .cfg.
  'the station line': 'die Zeile der Station',
  'the number of channels ("8,8A,0D")': 'die Zahl der Kanäle („8,8A,0D“)',
  'an analog channel': 'ein analoger Kanal',
  'a status channel': 'ein Statuskanal',
  'the multiplier a': 'der Faktor a',
  'the offset b': 'der Versatz b',
  'the line frequency': 'die Netzfrequenz',
  'the number of sampling rates': 'die Zahl der Abtastraten',
  'a sampling rate and its last row': 'eine Abtastrate und ihre letzte Zeile',
  'a time': 'eine Zeit',
  'the file type (ASCII, BINARY, BINARY32, FLOAT32)':
    'die Dateiart (ASCII, BINARY, BINARY32, FLOAT32)',
  'the time code': 'der Zeitcode',
};
