/**
 * Where limits come from, what rules are called, and how IEEE 1159 calls a dip, by the English.
 * "{}" stands for what varies.
 */
export const sources: Readonly<Record<string, string>> = {
  'common practice, no source': 'übliche Praxis, ohne Quelle',
  'IEC 60974-1, clause 10 (from memory): rated supply voltage ±10 % of both; {}: {}':
    'IEC 60974-1, Abschnitt 10 (aus dem Gedächtnis): Bemessungsspannung ±10 % auf beiden ' +
    'Seiten; dass die Bänder sich nicht berühren: übliche Praxis, ohne Quelle',
  "run length of an unclipped sine's crest, worked out here":
    'Länge des Scheitels eines ungekappten Sinus, hier ausgerechnet',
  'a load takes power (physics); where its angle ends is common practice':
    'eine Last nimmt Leistung auf (Physik); wo ihr Winkel endet, ist übliche Praxis',
  'IEC 60038 (from memory): 100 V to 690 V, ±10 %':
    'IEC 60038 (aus dem Gedächtnis): 100 V bis 690 V, ±10 %',
  'IEC 60974-1, clause 10 (from memory): rated supply voltage ±10 %':
    'IEC 60974-1, Abschnitt 10 (aus dem Gedächtnis): Bemessungsspannung ±10 %',
  'both classes ±10 %, after IEC 60974-1, clause 10 (from memory); do not touch: {}':
    'beide Klassen ±10 %, nach IEC 60974-1, Abschnitt 10 (aus dem Gedächtnis); sie berühren sich ' +
    'nicht: {…}',
  'NEC 210.19(A)(1) informational note 4, after UFC 3-520-01, 6-2.8: advice, not enforceable':
    'NEC 210.19(A)(1), Anmerkung 4, nach UFC 3-520-01, 6-2.8: Rat, keine Pflicht',
  'NEC 630.12(A), 2008 text': 'NEC 630.12(A), Fassung 2008',
  'NEC 630.12(B), 2008 text': 'NEC 630.12(B), Fassung 2008',
  'UL 489 calibration tests: 100, 135 and 200 % of the rating (times partly from memory)':
    'UL 489, Kalibrierprüfungen: 100, 135 und 200 % des Bemessungsstroms (Zeiten zum Teil aus ' +
    'dem Gedächtnis)',
  'IEC 60898-1: 1.13, 1.45 and 2.55 times the rating; types B, C and D':
    'IEC 60898-1: das 1,13-, 1,45- und 2,55-Fache des Bemessungsstroms; Typen B, C und D',
  'IEC 60947-2: 1.05 and 1.30 times the rating':
    'IEC 60947-2: das 1,05- und 1,30-Fache des Bemessungsstroms',
  'NEC 240.4(D); 240.4(G) sends the conductors of welders to article 630 (memory)':
    'NEC 240.4(D); 240.4(G) verweist die Leiter von Schweißmaschinen an Artikel 630 (aus dem ' +
    'Gedächtnis)',
  'NEC table 210.21(B)(3); 210.21(B)(1), exception 2, for arc welders':
    'NEC, Tabelle 210.21(B)(3); 210.21(B)(1), Ausnahme 2, für Lichtbogen-Schweißmaschinen',
  'NEC 630.11(A), 2008 text; unchanged to 2023 (from memory); NEC table 310.16, 2023':
    'NEC 630.11(A), Fassung 2008, unverändert bis 2023 (aus dem Gedächtnis); NEC, Tabelle ' +
    '310.16, 2023',
  '29 CFR 1910.254(c)(3)(ii) (from memory): ampacity not under rated primary current':
    '29 CFR 1910.254(c)(3)(ii) (aus dem Gedächtnis): Strombelastbarkeit nicht unter dem ' +
    'Bemessungs-Netzstrom',
  'NEC 630.11(B), 2008 text: {}; NEC table 310.16, 2023':
    'NEC 630.11(B), Fassung 2008: von den zwei größten alles, vom dritten 85 %, vom vierten ' +
    '70 %, vom Rest 60 %; NEC, Tabelle 310.16, 2023',
  '29 CFR 1910.254(c)(3)(ii) for every machine, added; (iii) lets a group have less (memory)':
    '29 CFR 1910.254(c)(3)(ii) für jede Maschine, zusammengezählt; (iii) lässt einer Gruppe ' +
    'weniger (aus dem Gedächtnis)',
  'NEC 215.2(A)(1) informational note 2, after UFC 3-520-01, 6-2.8: advice':
    'NEC 215.2(A)(1), Anmerkung 2, nach UFC 3-520-01, 6-2.8: Rat',
  "NEC 210.21(B)(1), exception 2: not under the conductors' least ampacity of 630.11(A)":
    'NEC 210.21(B)(1), Ausnahme 2: nicht unter der kleinsten Strombelastbarkeit der Leiter ' +
    'nach 630.11(A)',
  'IEC 60364-5-52, tables B.52.2 to B.52.5 (partly from memory)':
    'IEC 60364-5-52, Tabellen B.52.2 bis B.52.5 (zum Teil aus dem Gedächtnis)',
  'BS 7671:2008, 60 °C rubber, from 4 mm²; thinner: IEC 60364-5-52 (from memory)':
    'BS 7671:2008, Gummi 60 °C, ab 4 mm²; dünnere: IEC 60364-5-52 (aus dem Gedächtnis)',
  'NEC table 400.5(A)(1): 18 to 12 AWG after UL text, the rest from memory':
    'NEC, Tabelle 400.5(A)(1): 18 bis 12 AWG nach UL, der Rest aus dem Gedächtnis',
  'IEC 60974-1, clause 10 (from memory): at U1 ± 10 % it must work; output by V²':
    'IEC 60974-1, Abschnitt 10 (aus dem Gedächtnis): bei U₁ ± 10 % muss sie laufen; Leistung ' +
    'nach V²',
  'the least output that the shop typed in for the job':
    'die kleinste Leistung, die der Betrieb zum Auftrag eingetragen hat',
  'IEC 60974-1: duty cycle over 10 minutes; I²·X constant between rated points (memory)':
    'IEC 60974-1: Einschaltdauer über 10 Minuten; I²·X konstant zwischen den ' +
    'Bemessungspunkten (aus dem Gedächtnis)',
  'IEC 60974-1: I1eff of the rating plate': 'IEC 60974-1: I₁eff des Leistungsschilds',
  'ANSI C84.1 range A ±5 % (from memory); what it means on two legs: common practice':
    'ANSI C84.1, Bereich A, ±5 % (aus dem Gedächtnis); was das an zwei Außenleitern heißt: ' +
    'übliche Praxis',
  'ANSI C84.1 range B (from memory): 104 to 127 V':
    'ANSI C84.1, Bereich B (aus dem Gedächtnis): 104 bis 127 V',
  'ANSI C84.1 (from memory): 120/240 V': 'ANSI C84.1 (aus dem Gedächtnis): 120/240 V',
  'ANSI C84.1, annex (from memory): 3 % at no load; NEMA MG 1: most off the mean':
    'ANSI C84.1, Anhang (aus dem Gedächtnis): 3 % ohne Last; NEMA MG 1: größte Abweichung vom ' +
    'Mittel',
  'IEEE 519 and EN 50160 (both from memory): total distortion of low voltage, 8 %':
    'IEEE 519 und EN 50160 (beide aus dem Gedächtnis): Gesamtverzerrung der Niederspannung, ' +
    '8 %',
  "the shop's own passed coupons": 'die eigenen bestandenen Probenähte des Betriebs',
  'EN 50160 (from memory): ±1 % on an interconnected network; a generator strays':
    'EN 50160 (aus dem Gedächtnis): ±1 % im Verbundnetz, ein Generator schwankt',
  'IEC 61000-4-30, clause 5.4 (from memory): dip threshold 90 % of declared voltage':
    'IEC 61000-4-30, Abschnitt 5.4 (aus dem Gedächtnis): Einbruch unter 90 % der ' +
    'vereinbarten Spannung',
  'IEC 61000-4-30, clause 5.4 (from memory): swell threshold 110 % of declared':
    'IEC 61000-4-30, Abschnitt 5.4 (aus dem Gedächtnis): Überhöhung über 110 % der ' +
    'vereinbarten Spannung',
  'copper 0.39 % a kelvin (from memory), 50 K':
    'Kupfer 0,39 % je Kelvin (aus dem Gedächtnis), 50 K',
  'instruction books of welding machines, supply chapter: 1.35 times the largest kVA':
    'Betriebsanleitungen von Schweißmaschinen, Netzanschluss: das 1,35-Fache der größten kVA',
  'NBSIR 76-1011: glowing contacts gave 5 W at 0.8 A and 35 W at 15 A':
    'NBSIR 76-1011: glühende Kontakte gaben 5 W bei 0,8 A und 35 W bei 15 A ab',
  'ISO 8528-5, classes G1 to G3, as a textbook of standby supplies prints them':
    'ISO 8528-5, Klassen G1 bis G3, wie ein Lehrbuch der Ersatzstromversorgung sie druckt',
  "common practice, no source; a utility regulator's tap is 5/8 % (from memory)":
    'übliche Praxis, ohne Quelle; eine Stufe des Netzreglers macht 5/8 % (aus dem Gedächtnis)',
  'IEC 61000-3-3 (from memory): 4 % at most as equipment switches on':
    'IEC 61000-3-3 (aus dem Gedächtnis): höchstens 4 %, wenn ein Gerät einschaltet',
  "the vehicle maker's procedure": 'die Vorgabe des Fahrzeugherstellers',
  'plate-voltage': 'Spannung unter Last',
  'strike-voltage': 'Spannung beim Zünden',
  'full-load': 'Volllast',
  connection: 'Verbindungen',
  'voltage-class': 'Spannungsklasse',
  phases: 'Phasen',
  'other-load': 'fremde Lasten',
  sag: 'Einbrüche',
  output: 'Leistung',
  drop: 'Spannungsfall',
  'supply-amps': 'Leitung und Leitungsschutz',
  cord: 'Verlängerung',
  feeder: 'Speiseleitung',
  duty: 'Einschaltdauer',
  waveform: 'Kurvenform',
  heat: 'Wärme',
  'instantaneous sag': 'Einbruch unter einer halben Sekunde',
  'momentary sag': 'kurzer Einbruch',
  'temporary sag': 'zeitweiliger Einbruch',
  undervoltage: 'Unterspannung',
  'momentary interruption': 'kurze Unterbrechung',
  'temporary interruption': 'zeitweilige Unterbrechung',
  'sustained interruption': 'lange Unterbrechung',
  overvoltage: 'Überspannung',
  'instantaneous swell': 'Überhöhung unter einer halben Sekunde',
  'momentary swell': 'kurze Überhöhung',
  'temporary swell': 'zeitweilige Überhöhung',
};
