import type { MetricReference } from "./define.ts";

/**
 * The documents that definitions of the catalogue rest on. `seen` where the definition was read in the document
 * (or, where it says so, in its abstract), `memory` where it was recalled.
 */
function seen(year: number, citation: string): MetricReference {
  return { year, citation, verified: "seen" };
}

function memory(year: number, citation: string): MetricReference {
  return { year, citation, verified: "memory" };
}

/** For metrics that labs use widely and that the 1999 protocols do not list by name. */
export const COMMON_FORM = memory(
  1999,
  "Common practice, no single source; a metric of the form of those in Barbour et al. (1999) EPA 841-B-99-002, chapter 7",
);
export const ARMITAGE_1983 = seen(
  1983,
  "Armitage, P.D., Moss, D., Wright, J.F. & Furse, M.T. (1983) Water Research 17: 333-347 (read as the Freshwater Biology and Ecology Handbook gives it)",
);
export const BARBOUR_1999 = seen(
  1999,
  "Barbour, M.T., Gerritsen, J., Snyder, B.D. & Stribling, J.B. (1999) EPA 841-B-99-002, chapter 7",
);
export const BECK_1955 = memory(1955, "Beck, W.M. (1955) Sewage and Industrial Wastes 27: 1193-1197");
export const BERGER_PARKER_1970 = memory(1970, "Berger, W.H. & Parker, F.L. (1970) Science 168: 1345-1347");
export const BRAY_CURTIS_1957 = memory(
  1957,
  "Bray, J.R. & Curtis, J.T. (1957) Ecological Monographs 27: 325-349",
);
export const BRILLOUIN_1962 = memory(
  1962,
  "Brillouin, L. (1962) Science and Information Theory, 2nd edition, Academic Press",
);
export const BURTON_2003 = memory(
  2003,
  "Burton, J. & Gerritsen, J. (2003) A Stream Condition Index for Virginia Non-Coastal Streams",
);
export const CHALFANT_2012 = memory(
  2012,
  "Chalfant, B.A. (2012) A benthic macroinvertebrate index of biotic integrity for wadeable freestone riffle-run streams in Pennsylvania",
);
export const CHAO_1987 = memory(1987, "Chao, A. (1987) Biometrics 43: 783-791");
export const CHAO_2005 = memory(
  2005,
  "Chao, A. (2005) Species estimation and applications, Encyclopedia of Statistical Sciences 12: 7907-7916",
);
export const CHAO_LEE_1992 = memory(
  1992,
  "Chao, A. & Lee, S.-M. (1992) Journal of the American Statistical Association 87: 210-217",
);
export const CHESSMAN_2003 = memory(2003, "Chessman, B. (2003) SIGNAL 2.iv user manual");
export const COURTEMANCH_1987 = memory(
  1987,
  "Courtemanch, D.L. & Davies, S.P. (1987) Water Research 21: 217-222",
);
export const CUMMINS_KLUG_1979 = memory(
  1979,
  "Cummins, K.W. & Klug, M.J. (1979) Annual Review of Ecology and Systematics 10: 147-172",
);
export const DESHON_1995 = memory(
  1995,
  "DeShon, J.E. (1995) in Davis & Simon (eds) Biological Assessment and Criteria, Lewis: 217-243",
);
export const FISHER_1943 = memory(
  1943,
  "Fisher, R.A., Corbet, A.S. & Williams, C.B. (1943) Journal of Animal Ecology 12: 42-58",
);
export const FORE_1996 = memory(
  1996,
  "Fore, L.S., Karr, J.R. & Wisseman, R.W. (1996) J. North American Benthological Society 15: 212-231",
);
export const GERRITSEN_2000 = memory(
  2000,
  "Gerritsen, J., Burton, J. & Barbour, M.T. (2000) A stream condition index for West Virginia wadeable streams",
);
export const HECK_1975 = memory(
  1975,
  "Heck, K.L., van Belle, G. & Simberloff, D. (1975) Ecology 56: 1459-1461",
);
export const HILL_1973 = memory(1973, "Hill, M.O. (1973) Ecology 54: 427-432");
export const HILSENHOFF_1987 = seen(1987, "Hilsenhoff, W.L. (1987) Great Lakes Entomologist 20: 31-39");
export const HILSENHOFF_1988 = seen(
  1988,
  "Hilsenhoff, W.L. (1988) J. North American Benthological Society 7: 65-68",
);
export const HILSENHOFF_1998 = seen(
  1998,
  "Hilsenhoff, W.L. (1998) Great Lakes Entomologist 31: 1-12 (abstract)",
);
export const HURLBERT_1971 = memory(1971, "Hurlbert, S.H. (1971) Ecology 52: 577-586");
export const JACCARD_1912 = memory(1912, "Jaccard, P. (1912) New Phytologist 11: 37-50");
export const KARR_CHU_1999 = memory(
  1999,
  "Karr, J.R. & Chu, E.W. (1999) Restoring Life in Running Waters, Island Press",
);
export const KERANS_KARR_1994 = memory(
  1994,
  "Kerans, B.L. & Karr, J.R. (1994) Ecological Applications 4: 768-785",
);
export const LENAT_1993 = memory(
  1993,
  "Lenat, D.R. (1993) J. North American Benthological Society 12: 279-290",
);
export const MARGALEF_1958 = memory(1958, "Margalef, R. (1958) General Systems 3: 36-71");
export const MCINTOSH_1967 = memory(1967, "McIntosh, R.P. (1967) Ecology 48: 392-404");
export const MENHINICK_1964 = memory(1964, "Menhinick, E.F. (1964) Ecology 45: 859-861");
export const MERRITT_CUMMINS_1996 = memory(
  1996,
  "Merritt, R.W. & Cummins, K.W. (1996) An Introduction to the Aquatic Insects of North America, 3rd edition",
);
export const NOVAK_BODE_1992 = seen(
  1992,
  "Novak, M.A. & Bode, R.W. (1992) J. North American Benthological Society 11: 80-85 (abstract)",
);
export const PAISLEY_2014 = memory(
  2014,
  "Paisley, M.F., Trigg, D.J. & Walley, W.J. (2014) River Research and Applications 30: 887-904",
);
export const PIELOU_1966 = memory(1966, "Pielou, E.C. (1966) Journal of Theoretical Biology 13: 131-144");
export const PLAFKIN_1989 = memory(
  1989,
  "Plafkin, J.L., Barbour, M.T., Porter, K.D., Gross, S.K. & Hughes, R.M. (1989) EPA 440/4-89-001",
);
export const RENKONEN_1938 = memory(1938, "Renkonen, O. (1938) Annales Zoologici Societatis Vanamo 6: 1-231");
export const SHANNON_1948 = memory(
  1948,
  "Shannon, C.E. (1948) Bell System Technical Journal 27: 379-423 and 623-656",
);
export const SIMPSON_1949 = memory(1949, "Simpson, E.H. (1949) Nature 163: 688");
export const SORENSEN_1948 = memory(
  1948,
  "Sørensen, T. (1948) Biologiske Skrifter, Kongelige Danske Videnskabernes Selskab 5: 1-34",
);
export const STARK_1985 = memory(
  1985,
  "Stark, J.D. (1985) Water and Soil Miscellaneous Publication 87, Wellington",
);
export const STARK_1998 = memory(
  1998,
  "Stark, J.D. (1998) New Zealand Journal of Marine and Freshwater Research 32: 55-66",
);
export const STARK_MAXTED_2007 = seen(
  2007,
  "Stark, J.D. & Maxted, J.R. (2007) A User Guide for the Macroinvertebrate Community Index, Cawthron Report 1166",
);
export const STREAMKEEPERS = seen(
  2013,
  "Pacific Streamkeepers Federation, Module 4: Stream Invertebrate Survey, interpretation sheet and records of 2013",
);
