import type { OutputColumn, OutputRow } from "../../files/formats/define.ts";
import type { DrawMethod, DrawnSample } from "./drawn-sample.ts";
import type { SheetShape } from "./sheet-rows.ts";

const text = (name: string): OutputColumn => ({ name, kind: "text" });
const number = (name: string): OutputColumn => ({ name, kind: "number" });

/** The columns of the summary: one line a sample and draw of how. */
export function summaryColumns({ by, hasDraws }: SheetShape): OutputColumn[] {
  return [
    text("sample_id"),
    text("site_id"),
    ...(hasDraws ? [number("draw")] : []),
    text("status"),
    number("individuals_counted"),
    number("individuals_kept"),
    number("target"),
    ...(by === "grid"
      ? [number("lower"), number("upper"), text("grids"), text("animals_in_grids"), text("split")]
      : []),
    number("fraction_sorted"),
    number("estimated_total"),
    number("individuals_per_m2"),
    text("seed"),
    text("algorithm"),
    text("flags"),
  ];
}

/** `grids` stand in the order drawn; one without animals whose number is not known is `empty`. */
export function summaryRow(
  sample: DrawnSample,
  method: DrawMethod,
  seed: string,
  { hasDraws }: SheetShape,
): OutputRow {
  const drawn = sample.grids ?? [];
  return [
    sample.sampleId,
    sample.siteId,
    ...(hasDraws ? [sample.draw] : []),
    sample.status,
    sample.counted ?? null,
    sample.kept ?? null,
    method.by === "grid" ? method.rule.range.target : method.target,
    ...(method.by === "grid"
      ? [
          method.rule.range.lower,
          method.rule.range.upper,
          drawn.map(({ grid }) => (grid === "" ? "empty" : grid)).join(";"),
          drawn.map(({ animals }) => animals).join(";"),
          sample.split ?? "",
        ]
      : []),
    sample.fractionSorted ?? null,
    sample.estimatedTotal ?? null,
    sample.individualsPerM2 ?? null,
    seed,
    sample.algorithm,
    sample.flags.join(";"),
  ];
}
