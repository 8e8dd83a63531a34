/**
 * The twelve sites of the invented watershed and their visits.
 *
 * `coordinates` lie in the open ocean of the southern Pacific, far from any land, because the watershed does
 * not exist. A visit is [month and day of collection, days until the jars came in, stress from 0 to 4, animals,
 * grids of the 30 that were sorted].
 */
export const SITES = [
  site("U1", "upland", "Ostrimel Brook", [-47.102, -124.311], "Dipper", [
    ["06-06", 5, 0, 322, 6],
    ["09-11", 6, 0, 341, 8],
    ["09-09", 4, 0, 538, 11],
  ]),
  site("U2", "upland", "Vennaloo River", [-47.118, -124.286], "Dipper", [
    ["06-06", 5, 0, 296, 5],
    ["09-11", 6, 1, 318, 7],
    ["09-09", 4, 0, 512, 9],
  ]),
  site("U3", "upland", "Tarvenick Creek", [-47.131, -124.352], "Dipper", [
    ["06-07", 4, 1, 287, 9],
    ["09-12", 5, 2, 263, 12],
    ["09-10", 3, 2, 487, 14],
  ]),
  site("U4", "upland", "Skirrowel Run", [-47.097, -124.267], "Dipper", [
    ["06-07", 4, 2, 85, 30],
    ["09-12", 5, 3, 251, 10],
    ["09-10", 3, 4, 461, 13],
  ]),
  site("V1", "valley", "Vennaloo River", [-47.164, -124.241], "Heron", [
    ["05-16", 3, 0, 334, 4],
    ["09-19", 7, 0, 352, 5],
    ["09-17", 2, 0, 556, 8],
  ]),
  site("V2", "valley", "Brindasket Creek", [-47.181, -124.296], "Heron", [
    ["05-16", 3, 1, 309, 6],
    ["09-19", 7, 2, 327, 6],
    ["09-17", 2, 2, 524, 10],
  ]),
  site("V3", "valley", "Quorrimay Creek", [-47.176, -124.208], "Heron", [
    ["05-17", 9, 0, 301, 5],
    ["09-20", 6, 0, 315, 6],
    ["09-18", 8, 4, 498, 4],
  ]),
  site("V4", "valley", "Pellandrine Run", [-47.192, -124.333], "Heron", [
    ["05-17", 9, 2, 172, 30],
    ["09-20", 6, 3, 288, 9],
    ["09-18", 8, 3, 503, 6],
  ]),
  site("L1", "lowland", "Vennaloo River", [-47.228, -124.219], "Otter", [
    ["05-03", 12, 0, 318, 5],
    ["09-26", 4, 0, 330, 5],
    ["09-24", 5, 1, 541, 7],
  ]),
  site("L2", "lowland", "Ummerdash Creek", [-47.241, -124.257], "Otter", [
    ["05-03", 12, 2, 303, 4],
    ["09-26", 4, 2, 312, 4],
    ["09-24", 5, 3, 517, 6],
  ]),
  site("L3", "lowland", "Drellow Ditch", [-47.253, -124.188], "Otter", [
    ["05-04", 20, 4, 151, 30],
    ["09-27", 10, 4, 897, 4],
    ["09-25", 6, 4, 604, 4],
  ]),
  site("L4", "lowland", "Marnaquet Creek", [-47.236, -124.301], "Otter", [
    ["05-04", 20, 4, 297, 4],
    ["09-27", 10, 4, 339, 4],
    ["09-25", 6, 4, 529, 5],
  ]),
];

/** The three rounds in which every site was visited, with the target count the lab worked to. */
export const ROUNDS = [
  { year: 2023, season: "spring", target: 300, lot: "2023-1" },
  { year: 2023, season: "autumn", target: 300, lot: "2023-2" },
  { year: 2024, season: "autumn", target: 500, lot: "2024-1" },
];

/** The parameter of the urn by region and stress: how rich the catch is. */
export const VARIETY = {
  upland: [60, 50, 36, 20, 16],
  valley: [42, 38, 30, 20, 14],
  lowland: [48, 40, 30, 20, 10],
};

/** Crews of volunteers, by what stands on their labels, with the sorter and the taxonomist of their jars. */
export const BENCH = {
  Dipper: { sorter: "KMO", taxonomist: "TRV" },
  Heron: { sorter: "BEX", taxonomist: "TRV" },
  Otter: { sorter: "KMO", taxonomist: "ZLY" },
};

function site(id, stratum, waterbody, coordinates, crew, visits) {
  return { id, stratum, waterbody, coordinates, crew, visits };
}
