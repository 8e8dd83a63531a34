/** The version of package.json, put in when the program is built. */
declare const JARTALLY_VERSION: string;
