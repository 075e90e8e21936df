import { mount } from "svelte";
import App from "./App.svelte";
import "./style/tokens.css";
import "./style/frame.css";
import "./style/number.css";
import "./style/drawing.css";
import "./style/leaf.css";

const page = document.getElementById("page");
if (page) mount(App, { target: page });
