import { defineFinding } from "../define.ts";

/** What names on the sheet turn out to be, and which animals count. */
export const NAME_CODES = [
  defineFinding({
    code: "unknown-taxon",
    severity: "error",
    meaning:
      "A name is neither in the taxon tree, nor among its synonyms, nor in the lab's own list of names.",
    hint: "correct the spelling, or decide it once in names.csv (sheet_name,accepted_name)",
    example: 'sheet.csv:9:2 error unknown-taxon "Betis" is no known taxon; close names: Baetis',
  }),
  defineFinding({
    code: "unknown-accepted-name",
    severity: "error",
    meaning:
      "An accepted name in the lab's own list of names is neither a taxon of the tree nor a slash group, species group or provisional name made of its taxa.",
    hint: "write the name of the taxon as the tree has it",
    example:
      'names.csv:4:2 error unknown-accepted-name "Betis" is not in the taxon tree; close names: Baetis',
  }),
  defineFinding({
    code: "clashing-names",
    severity: "error",
    meaning:
      "Two names in the lab's own list differ only in capitals, stops or spaces and have different accepted names, so that a sheet's spelling would decide by chance.",
    hint: "give both the same accepted name, or keep one of them",
    example:
      'names.csv:7:1 error clashing-names "baetis sp" is Baetidae here and "Baetis sp." is Baetis in line 3',
  }),
  defineFinding({
    code: "ambiguous-name",
    severity: "warning",
    meaning:
      "A name has meant several taxa. One that is a taxon of the tree is taken as that; any other goes to the taxon that holds all of them.",
    hint: "say once in names.csv what the lab means by it; the warning then goes away",
    example:
      'sheet.csv:5:2 warning ambiguous-name "Hydropsyche" is ambiguous (usage with or without Ceratopsyche): taken as the taxon Hydropsyche itself',
  }),
  defineFinding({
    code: "in-part-name",
    severity: "warning",
    meaning: "A name usually, but not always, stands for the taxon it was taken as.",
    hint: "say once in names.csv what the lab means by it; the warning then goes away",
    example:
      'sheet.csv:6:2 warning in-part-name "Physella" is only in part one taxon (lumped by some authors; own tolerance rows kept): taken as the taxon Physella itself',
  }),
  defineFinding({
    code: "uncertain-name",
    severity: "warning",
    meaning:
      'The sheet itself is in doubt about a name ("cf.", "nr.", "?"), puts two life stages into one row, or names a group that the tree does not list.',
    hint: "check the animals again, or decide the name once in names.csv",
    example:
      'sheet.csv:8:2 warning uncertain-name "Baetis cf. tricaudatus" is taken as Baetis tricaudatus in spite of "cf."',
  }),
  defineFinding({
    code: "renamed-taxon",
    severity: "note",
    meaning:
      "An older name, a misspelling, an abbreviation or a common name was taken as the taxon it stands for.",
    hint: "nothing to do; a decision in names.csv overrules the synonym table",
    example: 'sheet.csv:7:2 note renamed-taxon "Acarina" is taken as Acari: older name',
  }),
  defineFinding({
    code: "operational-taxon",
    severity: "note",
    meaning:
      "A slash group, species group or provisional name is kept as a taxon of its own under the lowest taxon that holds it.",
    hint: "nothing to do; it adds to richness unless one of its members is in the sample",
    example:
      'sheet.csv:11:2 note operational-taxon "Cricotopus/Orthocladius" is a taxon of its own under Orthocladiinae',
  }),
  defineFinding({
    code: "stage-mismatch",
    severity: "warning",
    meaning:
      "The life stage written behind a name differs from the one in the sheet's life_stage column; the column is used.",
    hint: "correct the one that is wrong: the stage decides whether the animals count",
    example:
      'sheet.csv:13:2 warning stage-mismatch "Elmidae (L)" says larva, the life_stage column says adult',
  }),
  defineFinding({
    code: "excluded-animals",
    severity: "note",
    meaning:
      "Animals or remains that do not count (vertebrates, terrestrial adults, empty shells and cases, zooplankton) were left out.",
    hint: "nothing to do; the set's count_policy says which animals count",
    example: "sheet.csv:12:2 note excluded-animals 3 Cottidae do not count: vertebrate",
  }),
  defineFinding({
    code: "released-animals",
    severity: "note",
    meaning: "Animals put back alive are recorded and not counted.",
    hint: "nothing to do; keep the record, protected animals need a permit",
    example: "sheet.csv:14:2 note released-animals 1 Margaritifera was put back and is not counted",
  }),
  defineFinding({
    code: "kept-protected",
    severity: "warning",
    meaning:
      "Animals of a group that goes back to the stream alive (native mussels) are on a sheet that does not say that they did. Taking them may need a permit. The score is not in doubt, so the sample is not flagged for it.",
    hint: "identify such animals in the field, put them back and write disposition released; ask the agency in charge",
    example:
      "sheet.csv:15:2 warning kept-protected 2 Unionidae in sample V-07: the sheet does not say that they were put back alive (native mussel)",
  }),
  defineFinding({
    code: "listed-taxon",
    severity: "warning",
    meaning: "A taxon on the lab's list of taxa to watch for (invasive, protected) is in a sample.",
    hint: "look at the animals again and tell whoever the list says",
    example: "sheet.csv:16:2 warning listed-taxon 4 Dreissena polymorpha in sample V-07: invasive",
  }),
  defineFinding({
    code: "odd-stage",
    severity: "note",
    meaning:
      "Animals stand with a life stage that their group never has, such as the pupa of a mayfly: most often a slip of the line. They count all the same.",
    hint: "look whether the name or the stage belongs to another line; nothing to do where immature is meant",
    example: 'sheet.csv:14:2 note odd-stage "Baetis" stands as pupa, which Ephemeroptera never are',
  }),
  defineFinding({
    code: "moved-name",
    severity: "note",
    meaning:
      "The lab's list of names takes a name that is a taxon of the tree as a taxon of another family, everywhere in the batch.",
    hint: "nothing to do if it is meant; otherwise correct accepted_name",
    example:
      'names.csv:4:2 note moved-name "Baetis" (Baetidae) is taken as Caenis (Caenidae), a taxon of another family',
  }),
  defineFinding({
    code: "coarse-records",
    severity: "note",
    meaning:
      "Records are coarser than the level the reference set asks for. They stay as they are: records are rolled up, never down.",
    hint: "nothing to do for early instars and damaged animals; many of them make a sample hard to compare",
    example:
      "sheet.csv:18:2 note coarse-records 12 animals of 2 taxa are coarser than genus: Baetidae, Perlodidae",
  }),
] as const;
