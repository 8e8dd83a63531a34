/** The guide of a new lab folder, in Markdown. */
export function labGuide(set: string | undefined): string {
  const reference = set ?? "SET";
  const choose =
    set === undefined
      ? `Choose the reference set of your region, season, gear and level once (\`jartally reference list\`, \`jartally reference show SET\`) and add it to \`jartally.json\`: \`"reference": "SET"\`.`
      : `\`jartally.json\` names the reference set \`${set}\`; \`jartally reference show ${set}\` says for which region, season, gear and level it was made.`;
  return `# From jars to scores

Run the commands in this folder: \`jartally.json\` names the sample log, the list of names and the list of taxa to watch for, so that they need not be typed. What you type wins over it, and each command says what it took from it.

${choose}

## Before you start: cautions

- **Ethanol** burns, and so do its fumes. No flame, spark or heater near it; fresh air or a fume hood; closed jars; a store and a waste container as the local fire code asks. Have the safety data sheet at hand.
- **Formalin** is poisonous, harms skin, eyes and lungs, and is a suspected cause of cancer. Use it only where the method asks for it, with gloves, goggles and a fume hood, after reading the safety data sheet; rinse samples well before they come to the tray, and hand in the waste.
- **Glass** breaks: carry jars in a crate, never by the lid; pick up splinters with a brush; cover cuts before you handle preservative.
- **Wading**: never alone, never above the knee in a strong current, never in a flood. No score is worth it.
- **Protected animals**: native freshwater mussels, many crayfish and others may not be taken without a permit. Identify them in the field, photograph them, put them back where they were, and write them down with \`disposition\` \`released\`: they are recorded and not counted. Ask the agency in charge before you collect anything. Kept by mistake? Write that down too, and tell the agency.
- A score is no legal determination unless the responsible agency's method was followed by qualified people.

## The steps of a batch

1. **In the field.** A label inside each jar and one outside, in pencil or ink that ethanol does not wash off: sample id, site, date, jar 1 of 2. Preservative at least half of the jar. One row a sample in \`sample-log.csv\`; only \`sample_id\` is needed, and columns you do not use can be deleted.
2. **When the jars come in.** Fill in \`containers_received\`, the labels and the preservative, then

       jartally check bench-sheet.csv

   The summary starts with the jars to see to first: too little preservative, or ethanol that has come to less than 70 percent. It works before anything is counted.
3. **At the tray.** \`jartally grids sample-log.csv --tray 5x6 --target 200\` gives a random order of the grids; write what was picked into \`pick-log.csv\`.
4. **At the microscope.** One row a taxon in \`bench-sheet.csv\`, or as many sheets as you like in a folder of their own. Only \`sample_id\`, \`taxon\` and \`count\` are needed. A jar of which only a part was sorted, or midges of which only a part was mounted, gets its share in \`mount_fraction\`; rows of different shares are not summed.
5. **Before scoring.**

       jartally check bench-sheet.csv --write-names to-decide.csv

   Correct what is an error. \`to-decide.csv\` holds every name that needs a person, once: fill in \`accepted_name\`, look it over, and let it take the place of \`names.csv\`; the decisions made before are in it too. Taxa of \`alerts.csv\` (\`taxon\`, \`kind\` protected or invasive, \`note\`) stand at the top of the summary.
6. **Quality control.** \`jartally qc choose sample-log.csv --share 10%\` says which residues a second person sorts again; write what they find into \`sorting-check.csv\` and run \`jartally qc sorting sorting-check.csv\`.
7. **Score**, and keep the proof:

       jartally score bench-sheet.csv${set === undefined ? ` --reference ${reference}` : ""} --run run-1 -o scores.csv
       jartally verify run-1

   A mistake found later is corrected with a reason in \`amendment.csv\` and \`jartally rescore run-1 --amend amendment.csv\`; the old run stays as it was.

\`jartally help COMMAND\` explains each command.
`;
}
