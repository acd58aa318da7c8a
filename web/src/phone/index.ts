/** The page in the hand: the survey pad, Get home, and the keys at the foot elsewhere. */
export { Foot, type FootKey } from "./foot";
export { GetHome } from "./get-home";
export { SurveyPad } from "./survey-pad";
