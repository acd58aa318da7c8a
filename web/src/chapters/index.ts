/** What stands in the body of each chapter. */
import type { ComponentType } from "react";

import type { Page } from "../sent";
import { GetHome } from "../phone/get-home";
import { Boat } from "./boat";
import { Fill } from "./fill";
import { Flow } from "./flow";
import { Circuit, Fit } from "./marks";
import { notYet } from "./not-yet";
import { Order } from "./order";
import { Route } from "./route";
import { SurveyChapter } from "./survey-chapter";

export const chapters: Record<string, ComponentType<{ page: Page }>> = {
  boat: Boat,
  survey: SurveyChapter,
  circuit: Circuit,
  route: Route,
  fit: Fit,
  flow: Flow,
  order: Order,
  drain: notYet("drain"),
  build: notYet("build"),
  fill: Fill,
  prove: notYet("prove"),
  watch: notYet("watch"),
  home: GetHome,
};
