/**
 * How each response class changes a weight at stress 0, 1, 2, 3 and 4. Invented.
 *
 * A gone at little stress; B thins out; C hardly minds; D gains; E takes over.
 */
export const RESPONSES = {
  A: [8, 5, 2, 0, 0],
  B: [8, 6, 4, 2, 0],
  C: [8, 8, 8, 7, 5],
  D: [4, 6, 9, 12, 12],
  E: [0, 1, 4, 12, 24],
};

/**
 * The taxa a riffle of the invented watershed may hold, in the order in which they stand on a bench sheet, with
 * their weight in each region and their response to stress. Weights and responses are invented; they only
 * follow what is common knowledge of such streams.
 */
export const TAXA = [
  ...ofStage("", [
    // flatworms, worms, leeches
    taxon("Polycelis", 3, 2, 0, "B"),
    taxon("Dugesia", 0, 2, 3, "D"),
    taxon("Lumbriculidae", 2, 3, 5, "C"),
    taxon("Nais", 1, 3, 8, "D"),
    taxon("Tubifex", 0, 1, 10, "E"),
    taxon("Limnodrilus", 0, 1, 12, "E"),
    taxon("Helobdella", 0, 1, 4, "E"),
    taxon("Erpobdella", 0, 1, 4, "E"),
    // clams, snails
    taxon("Pisidium", 1, 4, 8, "D"),
    taxon("Sphaerium", 0, 2, 4, "C"),
    taxon("Ferrissia", 0, 3, 4, "C"),
    taxon("Physa", 0, 2, 10, "E"),
    taxon("Gyraulus", 0, 1, 5, "D"),
    taxon("Juga", 1, 5, 4, "B"),
    taxon("Fluminicola", 1, 4, 3, "B"),
    // mites, crustaceans
    taxon("Lebertia", 3, 4, 3, "C"),
    taxon("Sperchon", 4, 5, 3, "C"),
    taxon("Hyalella", 0, 1, 9, "D"),
    taxon("Gammarus", 1, 4, 8, "C"),
    taxon("Caecidotea", 0, 1, 7, "E"),
  ]),
  ...ofStage("nymph", [
    // mayflies
    taxon("Ameletus", 6, 2, 0, "A"),
    taxon("Acentrella", 3, 6, 3, "B"),
    taxon("Baetis", 20, 24, 16, "C"),
    taxon("Diphetor", 3, 6, 2, "B"),
    taxon("Callibaetis", 0, 0, 3, "D"),
    taxon("Caenis", 0, 1, 6, "D"),
    taxon("Attenella", 2, 4, 2, "B"),
    taxon("Caudatella", 5, 1, 0, "A"),
    taxon("Drunella", 14, 8, 1, "A"),
    taxon("Ephemerella", 8, 10, 4, "B"),
    taxon("Serratella", 4, 7, 3, "B"),
    taxon("Timpanoga", 0, 2, 2, "C"),
    taxon("Cinygmula", 14, 6, 0, "A"),
    taxon("Epeorus", 12, 6, 1, "A"),
    taxon("Ironodes", 5, 3, 0, "A"),
    taxon("Rhithrogena", 12, 9, 2, "A"),
    taxon("Tricorythodes", 0, 4, 9, "C"),
    taxon("Paraleptophlebia", 7, 10, 6, "B"),
    taxon("Siphlonurus", 0, 1, 2, "C"),
    // dragonflies, damselflies
    taxon("Ophiogomphus", 0, 3, 2, "B"),
    taxon("Cordulegaster", 1, 1, 0, "A"),
    taxon("Calopteryx", 0, 0, 3, "C"),
    taxon("Argia", 0, 2, 5, "D"),
    taxon("Ischnura", 0, 0, 5, "E"),
    taxon("Enallagma", 0, 0, 4, "D"),
    // stoneflies
    taxon("Capnia", 5, 2, 0, "A", "spring"),
    taxon("Taenionema", 5, 3, 0, "A", "spring"),
    taxon("Paraleuctra", 4, 1, 0, "A"),
    taxon("Despaxia", 3, 1, 0, "A"),
    taxon("Malenka", 3, 4, 2, "B"),
    taxon("Zapada", 14, 8, 1, "B"),
    taxon("Amphinemura", 2, 3, 2, "B"),
    taxon("Yoraperla", 7, 1, 0, "A"),
    taxon("Pteronarcys", 2, 3, 0, "A"),
    taxon("Calineuria", 5, 7, 1, "A"),
    taxon("Doroneuria", 7, 2, 0, "A"),
    taxon("Hesperoperla", 3, 4, 1, "B"),
    taxon("Isoperla", 4, 5, 2, "B"),
    taxon("Skwala", 3, 4, 1, "B"),
    taxon("Megarcys", 4, 1, 0, "A"),
    taxon("Cultus", 2, 2, 0, "A"),
    taxon("Sweltsa", 9, 6, 1, "A"),
    taxon("Suwallia", 4, 2, 0, "A"),
  ]),
  ...ofStage("larva", [
    // alderflies, dobsonflies
    taxon("Sialis", 0, 2, 3, "C"),
    // caddisflies
    taxon("Apatania", 4, 1, 0, "A"),
    taxon("Brachycentrus", 1, 6, 4, "B"),
    taxon("Micrasema", 7, 6, 1, "A"),
    taxon("Glossosoma", 8, 8, 2, "A"),
    taxon("Agapetus", 2, 3, 1, "A"),
    taxon("Helicopsyche", 0, 3, 3, "B"),
    taxon("Arctopsyche", 4, 3, 0, "A"),
    taxon("Parapsyche", 5, 1, 0, "A"),
    taxon("Hydropsyche", 3, 14, 16, "C"),
    taxon("Cheumatopsyche", 0, 5, 14, "D"),
    taxon("Hydroptila", 1, 4, 9, "D"),
    taxon("Ochrotrichia", 1, 3, 3, "C"),
    taxon("Lepidostoma", 4, 7, 4, "B"),
    taxon("Nectopsyche", 0, 1, 4, "B"),
    taxon("Oecetis", 0, 1, 4, "C"),
    taxon("Dicosmoecus", 2, 3, 0, "A"),
    taxon("Psychoglypha", 2, 2, 1, "B"),
    taxon("Limnephilus", 0, 1, 2, "C"),
    taxon("Dolophilodes", 5, 3, 0, "A"),
    taxon("Wormaldia", 3, 3, 1, "B"),
    taxon("Polycentropus", 2, 3, 3, "C"),
    taxon("Psychomyia", 0, 3, 3, "B"),
    taxon("Rhyacophila", 11, 8, 1, "A"),
    taxon("Neophylax", 4, 4, 1, "A"),
    // moths
    taxon("Petrophila", 0, 2, 4, "C"),
    // beetles
    taxon("Optioservus", 4, 13, 10, "C"),
    taxon("Heterlimnius", 10, 5, 0, "B"),
    taxon("Zaitzevia", 3, 9, 5, "C"),
    taxon("Narpus", 3, 3, 1, "B"),
    taxon("Cleptelmis", 3, 5, 3, "B"),
    taxon("Lara", 3, 2, 0, "A"),
    taxon("Stenelmis", 0, 2, 6, "D"),
    taxon("Dubiraphia", 0, 1, 5, "D"),
    taxon("Psephenus", 1, 5, 4, "B"),
    taxon("Agabus", 0, 1, 2, "D"),
    taxon("Haliplus", 0, 0, 3, "D"),
    // true flies
    taxon("Antocha", 3, 8, 5, "C"),
    taxon("Hexatoma", 4, 5, 1, "B"),
    taxon("Dicranota", 4, 4, 2, "C"),
    taxon("Tipula", 1, 2, 3, "D"),
    taxon("Limnophila", 1, 1, 1, "C"),
    taxon("Atherix", 2, 5, 2, "B"),
    taxon("Blepharicera", 3, 2, 0, "A"),
    taxon("Prosimulium", 6, 3, 0, "B", "spring"),
    taxon("Simulium", 7, 12, 16, "D"),
    taxon("Chelifera", 2, 3, 2, "C"),
    taxon("Clinocera", 2, 2, 1, "C"),
    taxon("Hemerodromia", 1, 4, 6, "C"),
    taxon("Bezzia", 1, 3, 4, "D"),
    taxon("Pericoma", 2, 2, 1, "C"),
    taxon("Maruina", 2, 1, 0, "A"),
    taxon("Glutops", 2, 1, 0, "A"),
    taxon("Dixa", 1, 1, 1, "B"),
    taxon("Psychoda", 0, 0, 2, "E"),
    // midges
    taxon("Procladius", 0, 1, 4, "D"),
    taxon("Thienemannimyia", 2, 6, 9, "D"),
    taxon("Diamesa", 3, 3, 2, "C"),
    taxon("Pagastia", 4, 4, 2, "B"),
    taxon("Brillia", 3, 4, 2, "C"),
    taxon("Corynoneura", 2, 3, 3, "C"),
    taxon("Cricotopus", 3, 9, 20, "D"),
    taxon("Eukiefferiella", 6, 8, 5, "C"),
    taxon("Orthocladius", 5, 10, 14, "D"),
    taxon("Parametriocnemus", 3, 4, 4, "C"),
    taxon("Rheocricotopus", 1, 3, 4, "C"),
    taxon("Tvetenia", 5, 7, 4, "C"),
    taxon("Chironomus", 0, 0, 9, "E"),
    taxon("Cryptochironomus", 0, 1, 5, "D"),
    taxon("Dicrotendipes", 0, 1, 8, "E"),
    taxon("Microtendipes", 1, 4, 6, "C"),
    taxon("Polypedilum", 2, 8, 18, "D"),
    taxon("Micropsectra", 6, 9, 8, "C"),
    taxon("Rheotanytarsus", 2, 7, 10, "C"),
    taxon("Tanytarsus", 2, 6, 10, "C"),
  ]),
];

/** Riffle beetles, whose adults live in the water beside their larvae and are counted apart. */
export const RIFFLE_BEETLES = [
  "Optioservus",
  "Heterlimnius",
  "Zaitzevia",
  "Narpus",
  "Cleptelmis",
  "Lara",
  "Stenelmis",
  "Dubiraphia",
];

/** @param {string} season when the taxon is caught; empty means always */
function taxon(name, upland, valley, lowland, response, season = "") {
  return { name, upland, valley, lowland, response, season };
}

/** Taxa that the bench sheet gives the same life stage; empty where the lab writes none. */
function ofStage(stage, taxa) {
  return taxa.map((one) => ({ ...one, stage }));
}
