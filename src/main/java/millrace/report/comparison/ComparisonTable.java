// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.List;
import java.util.function.UnaryOperator;
import millrace.assessment.comparison.Comparison;
import millrace.assessment.comparison.Distribution;
import millrace.evidence.Measurand;
import millrace.quantity.Numbers;
import millrace.report.table.TextColumns;
import millrace.report.words.Figures;

/** A comparison as tables for the terminal. Stateless, thread-safe. */
public final class ComparisonTable {
  private static final int WIDEST = 40;

  private ComparisonTable() {}

  /**
   * Sets a comparison in tables: yield, each quantity over all units, then what is worth a look:
   * outliers, drifts, batches, gauge studies, set-ups.
   *
   * @param c the comparison
   * @return lines, each with its line feed
   */
  public static String print(Comparison c) {
    StringBuilder text = new StringBuilder();
    line(text, ComparisonWords.head(c));
    ComparisonWords.yieldLines(c).forEach(l -> line(text, l));
    if (!c.bins().isEmpty()) {
      line(text, "bins: " + ComparisonWords.bins(c.bins()));
    }
    StandsOut.sentences(c, UnaryOperator.identity()).forEach(l -> line(text, l));
    text.append('\n').append(quantities(c));
    section(text, "likeliest causes of the units that failed", causes(c));
    section(text, "units to repair", repairs(c));
    section(text, "outliers (generalized ESD)", outliers(c));
    section(text, "moved between runs", drifts(c));
    section(text, "batch against the others", contrasts(c));
    section(text, "gauge study", gauges(c));
    section(text, "reproducibility of the set-up", setUps(c));
    if (!c.notes().isEmpty()) {
      text.append('\n');
    }
    c.notes().forEach(n -> line(text, "Note: " + n + "."));
    return text.toString();
  }

  private static void line(StringBuilder text, String line) {
    text.append(TextColumns.plain(line)).append('\n');
  }

  private static void section(StringBuilder text, String title, TextColumns table) {
    if (!table.empty()) {
      text.append('\n').append(title).append('\n').append(table.text());
    }
  }

  private static String quantities(Comparison c) {
    TextColumns table =
        new TextColumns(
            WIDEST,
            "quantity",
            "range",
            "at",
            "n",
            "mean",
            "sd",
            "least",
            "largest",
            "limit",
            "guarded",
            "Ppk",
            "within",
            "outliers");
    c.distributions().forEach(d -> quantity(table, d));
    return table.text();
  }

  private static void quantity(TextColumns table, Distribution d) {
    Measurand m = d.what();
    if (d.statistics().isEmpty()) {
      return;
    }
    Distribution.Statistics s = d.statistics().get();
    table.row(
        m.quantity().inWords(),
        m.range().orElse(""),
        MeasurandWords.at(m),
        String.valueOf(s.spread().n()),
        MeasurandWords.among(s.spread(), s.spread().mean(), m),
        MeasurandWords.scatter(s.spread(), m),
        MeasurandWords.among(s.spread(), s.spread().least(), m),
        MeasurandWords.among(s.spread(), s.spread().largest(), m),
        d.limit().map(l -> Figures.limit(l, m.quantity().unit())).orElse(""),
        MeasurandWords.limit(d.testLimit(), m),
        s.capability().map(k -> MeasurandWords.index(k.ppk())).orElse(""),
        s.within().map(w -> w.count() + "/" + w.of()).orElse(""),
        s.outliers().isEmpty() ? "" : String.valueOf(s.outliers().size()));
  }

  private static TextColumns causes(Comparison c) {
    TextColumns table = new TextColumns(WIDEST, "units", "up to here", "cause", "runs");
    int all = c.causes().stream().mapToInt(Comparison.CauseCount::units).sum();
    int sofar = 0;
    for (Comparison.CauseCount k : c.causes()) {
      sofar += k.units();
      table.row(
          String.valueOf(k.units()),
          MeasurandWords.percent((double) sofar / all),
          k.cause(),
          ComparisonWords.runs(k.runs()));
    }
    return table;
  }

  private static TextColumns repairs(Comparison c) {
    TextColumns table = new TextColumns(WIDEST, "unit", "run", "look at");
    for (Comparison.CauseCount k : c.causes()) {
      for (Comparison.Blamed b : k.boards()) {
        table.row(b.test().unit(), String.valueOf(b.test().run().id()), ComparisonWords.hint(b));
      }
    }
    return table;
  }

  private static TextColumns outliers(Comparison c) {
    TextColumns table = new TextColumns(WIDEST, "quantity", "range", "at", "runs");
    for (Distribution d : c.distributions()) {
      List<Long> runs = d.statistics().map(Distribution.Statistics::outliers).orElse(List.of());
      if (!runs.isEmpty() && d.limit().isPresent()) {
        table.row(
            d.what().quantity().inWords(),
            d.what().range().orElse(""),
            MeasurandWords.at(d.what()),
            ComparisonWords.named(d, runs));
      }
    }
    return table;
  }

  private static TextColumns drifts(Comparison c) {
    TextColumns table =
        new TextColumns(
            WIDEST,
            "unit",
            "runs",
            "quantity",
            "range",
            "at",
            "later less earlier",
            "",
            "cancelled");
    for (Comparison.Drift d : c.drifts()) {
      table.row(
          d.later().unit(),
          d.earlier().run().id() + " to " + d.later().run().id(),
          d.what().quantity().inWords(),
          d.what().range().orElse(""),
          MeasurandWords.at(d.what()),
          ComparisonWords.change(d),
          d.change().significant() ? "moved" : "",
          ComparisonWords.largest(d.change().cancelled()));
    }
    return table;
  }

  private static TextColumns contrasts(Comparison c) {
    TextColumns table =
        new TextColumns(WIDEST, "batch", "quantity", "range", "at", "difference", "p", "");
    for (Comparison.Contrast k : StandsOut.likeliestFirst(c)) {
      table.row(
          k.batch(),
          k.what().quantity().inWords(),
          k.what().range().orElse(""),
          MeasurandWords.at(k.what()),
          ComparisonWords.difference(k),
          Numbers.significant(k.comparison().probability(), 2),
          StandsOut.differs(k, c) ? "differs" : "");
    }
    return table;
  }

  private static TextColumns gauges(Comparison c) {
    TextColumns table =
        new TextColumns(
            WIDEST,
            "quantity",
            "range",
            "at",
            "repeatability",
            "reproducibility",
            "units",
            "of study",
            "of tolerance",
            "bench",
            "categories",
            "");
    for (Comparison.Gauge g : c.gauges()) {
      table.row(
          g.what().quantity().inWords(),
          g.what().range().orElse(""),
          MeasurandWords.at(g.what()),
          ComparisonWords.root(g.study().components().repeatability(), g.what()),
          ComparisonWords.root(
              g.study().components().operator() + g.study().components().interaction(), g.what()),
          ComparisonWords.root(g.study().components().unit(), g.what()),
          MeasurandWords.percent(g.study().ofStudy()),
          GaugeVerdict.ofTolerance(g),
          GaugeVerdict.words(g),
          ComparisonWords.categories(g),
          g.study().pooled() ? "interaction pooled" : "");
    }
    return table;
  }

  private static TextColumns setUps(Comparison c) {
    TextColumns table =
        new TextColumns(
            WIDEST,
            "run",
            "range",
            "load",
            "connections",
            "u of one",
            "interval",
            "its noise",
            "for the bench file");
    for (Comparison.SetUpStudy s : c.setUps()) {
      table.row(
          String.valueOf(s.run()),
          s.range(),
          Figures.number(s.loadOhm(), "ohm"),
          String.valueOf(s.connectionsPpm().n()),
          ComparisonWords.scatter(s.connectionsPpm()),
          ComparisonWords.setUpInterval(c, s),
          Figures.size(s.noisePpm(), "ppm"),
          s.connectionsPpm().enoughForReproducibility()
              ? ComparisonWords.setUpWords(s)
              : "fewer than 10 connections");
    }
    return table;
  }
}
