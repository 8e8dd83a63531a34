// What charts need of echarts. It is built into a file of its own: only reports load it, and it is as large as all
// the rest of the program.
export { BarChart, CustomChart, LineChart } from "echarts/charts";
export { GridComponent, LegendComponent, MarkLineComponent } from "echarts/components";
export { init, use } from "echarts/core";
export { LabelLayout } from "echarts/features";
export { SVGRenderer } from "echarts/renderers";
