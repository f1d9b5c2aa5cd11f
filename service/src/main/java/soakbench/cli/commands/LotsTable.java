package soakbench.cli.commands;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Lots as people read them in a terminal. */
final class LotsTable {
  private LotsTable() {}

  /** A row for each lot. */
  static void lots(JsonNode lots, String metric, PrintWriter out) {
    List<String[]> rows = new ArrayList<>();
    rows.add(
        new String[] {"lot", "units", "soaks", "last", "median", "sd of units", "outside", ""});
    for (JsonNode lot : lots) {
      JsonNode m = lot.get("metrics").get(metric);
      rows.add(
          new String[] {
            lot.get("lot").asText(),
            lot.get("unit_count").asText(),
            lot.get("soaks").asText(),
            lot.get("last").isNull() ? "-" : lot.get("last").asText(),
            m.get("median").isNull() ? "-" : number(m.get("median")),
            estimate(m.get("sd")),
            outside(m),
            verdicts(lot.get("verdicts"))
          });
    }
    out.println(metric + ", " + lots.get(0).get("metrics").get(metric).get("unit").asText());
    print(rows, out);
  }

  /** A row for each unit of a lot. */
  static void units(JsonNode lot, String metric, PrintWriter out) {
    JsonNode m = lot.get("metrics").get(metric);
    out.printf(
        Locale.ROOT,
        "%s: %d %s, %s; median %s %s%n",
        lot.get("lot").asText(),
        lot.get("unit_count").asInt(),
        lot.get("unit_count").asInt() == 1 ? "unit" : "units",
        verdicts(lot.get("verdicts")),
        m.get("median").isNull() ? "not known" : number(m.get("median")),
        m.get("unit").asText());
    List<String[]> rows = new ArrayList<>();
    rows.add(new String[] {"unit", "name", "soaks", metric, "screening", "why"});
    for (JsonNode unit : lot.get("units")) {
      rows.add(
          new String[] {
            unit.get("tracker").asText(),
            unit.get("name").asText(),
            unit.get("soaks").asText(),
            value(unit.get("values").get(metric)),
            unit.get("screening").get("verdict").asText(),
            unit.get("screening").get("reason").asText()
          });
    }
    print(rows, out);
    if (!lot.get("next").isNull()) {
      out.println("… and more: --csv has all.");
    }
  }

  /** The finding, what to do, and what it rests on. */
  static void comparison(JsonNode c, PrintWriter out) {
    out.println(c.get("words").asText());
    if (!c.get("confounded").isEmpty()) {
      out.println(c.get("finding").asText());
    }
    c.get("advice").forEach(a -> out.println("- " + a.asText()));
    c.get("warnings").forEach(w -> out.println("! " + w.asText()));
    out.println();
    out.println(c.get("metric").asText() + ", " + c.get("unit").asText());
    List<String[]> rows = new ArrayList<>();
    rows.add(new String[] {"lot", "units", "median", "sd of units", "outside"});
    for (JsonNode lot : c.get("lots")) {
      rows.add(
          new String[] {
            lot.get("lot").asText(),
            lot.get("n").asText(),
            lot.get("median").isNull() ? "-" : number(lot.get("median")),
            estimate(lot.get("sd")),
            outside(lot)
          });
    }
    print(rows, out);
    tested("level", c.get("level"), out);
    tested("spread", c.get("spread"), out);
    couldBeSeen(c, out);
  }

  private static void tested(String what, JsonNode test, PrintWriter out) {
    if (test.get("p").isNull()) {
      out.println(what + ": " + test.get("reason").asText());
    } else {
      out.printf(
          Locale.ROOT,
          "%s: %s, p = %.2g%n",
          what,
          test.get("test").asText(),
          test.get("p").asDouble());
    }
  }

  private static void couldBeSeen(JsonNode c, PrintWriter out) {
    JsonNode ratio = c.get("detectable").get("ratio");
    JsonNode each = c.get("units_needed").get("each_for_ratio");
    if (!ratio.isNull()) {
      out.printf(
          Locale.ROOT,
          "four trials of five show a ratio of %.2f or more; %.1f takes %s units of each%n",
          ratio.asDouble(),
          c.get("units_needed").get("ratio").asDouble(),
          each.asText());
    }
  }

  private static String verdicts(JsonNode v) {
    return "%s accept, %s look again, %s reject"
        .formatted(v.get("accept"), v.get("look_again"), v.get("reject"));
  }

  private static String outside(JsonNode metric) {
    JsonNode outside = metric.get("outside");
    return outside == null || outside.isNull()
        ? "-"
        : outside.get("count").asText() + " of " + metric.get("n").asText();
  }

  /** A figure of a unit, with half its interval. */
  private static String value(JsonNode e) {
    if (e.get("value").isNull()) {
      return "not known";
    }
    boolean interval = e.hasNonNull("low") && e.hasNonNull("high");
    return number(e.get("value"))
        + (interval
            ? " +- " + number((e.get("high").asDouble() - e.get("low").asDouble()) / 2)
            : "");
  }

  /** A figure with its limits, which need not be symmetric. */
  private static String estimate(JsonNode e) {
    return e.get("value").isNull()
        ? "not known"
        : "%s (%s to %s)"
            .formatted(number(e.get("value")), number(e.get("low")), number(e.get("high")));
  }

  private static String number(JsonNode value) {
    return number(value.asDouble());
  }

  /** Three digits that count. */
  private static String number(double value) {
    int decimals =
        value == 0
            ? 0
            : Math.min(9, Math.max(0, 2 - (int) Math.floor(Math.log10(Math.abs(value)))));
    return String.format(Locale.ROOT, "%." + decimals + "f", value);
  }

  private static void print(List<String[]> rows, PrintWriter out) {
    int[] widths = new int[rows.get(0).length];
    for (String[] row : rows) {
      for (int i = 0; i < widths.length; i++) {
        widths[i] = Math.max(widths[i], row[i].length());
      }
    }
    for (String[] row : rows) {
      StringBuilder line = new StringBuilder();
      for (int i = 0; i < widths.length; i++) {
        line.append(String.format(Locale.ROOT, "%-" + (widths[i] + 2) + "s", row[i]));
      }
      out.println(line.toString().stripTrailing());
    }
  }
}
