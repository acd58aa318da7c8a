import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { firstPage } from "./api";
import { App } from "./app";
import { begin, showNight } from "./state";
import "./style/fonts.css";
import "./style/tokens.css";
import "./style/frame.css";
import "./style/strip.css";
import "./style/bay.css";
import "./style/card.css";
import "./style/chapters.css";
import "./style/phone.css";
import "./style/night.css";
import "./style/print.css";

showNight();
begin(firstPage());
const root = document.getElementById("page");
if (root) {
  createRoot(root).render(
    <StrictMode>
      <App />
    </StrictMode>,
  );
}
