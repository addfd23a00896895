// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.UnaryOperator;
import millrace.analysis.batch.GaugeIntervals;
import millrace.assessment.comparison.BatchDistribution;
import millrace.assessment.comparison.Comparison;
import millrace.assessment.comparison.ResultsByGroup;
import millrace.evidence.Measurand;
import millrace.quantity.NumberText;
import millrace.report.table.TextColumns;
import millrace.report.words.ResultFigures;

/** A comparison as tables for the terminal. Stateless, thread-safe. */
public final class ComparisonTable {
  private static final int WIDEST = 40;
  private static final int MOST_SIGNALS = 12;

  private ComparisonTable() {}

  /**
   * The highlights: the answer, failed units with their limits, drift and differences, capability
   * with its caveats, and what to do.
   *
   * @param c the comparison
   * @return paragraphs; one with leading spaces continues the one before
   */
  public static List<String> paragraphs(Comparison c) {
    List<String> lines = new ArrayList<>();
    lines.add("%s: %s.".formatted(ComparisonWords.head(c), ComparisonHighlights.headline(c)));
    lines.addAll(ComparisonHighlights.sentences(c, UnaryOperator.identity()));
    if (c.gauges().isEmpty()) {
      ComparisonWords.yieldLines(c).forEach(lines::add);
    }
    if (c.gauges().isEmpty() && !c.bins().isEmpty()) {
      lines.add("bins: " + ComparisonWords.bins(c.bins()));
    }
    return lines.stream().map(TextColumns::plain).toList();
  }

  /**
   * The tables of a comparison: gauge studies, each limited quantity over all units, then other
   * notable findings.
   *
   * @param c the comparison
   * @param by results by group, if asked for
   * @param all true to include every quantity, trend and group
   * @return lines, each with its line feed
   */
  public static String tables(Comparison c, Optional<ResultsByGroup> by, boolean all) {
    StringBuilder text = new StringBuilder();
    section(text, "gauge study, across " + across(c), gauges(c));
    text.append(LimitedQuantityTables.of(c));
    by.ifPresent(groups -> text.append(ResultsByGroupTable.text(groups)));
    if (all) {
      section(text, "every quantity", quantities(c));
    }
    section(text, "likeliest causes of the units that failed", causes(c));
    section(text, "units to repair", repairs(c));
    section(text, "outliers (generalized ESD)", outliers(c));
    signals(text, c, all);
    section(text, "later against earlier runs of a unit", drifts(c, all));
    if (all) {
      section(text, "drift in the order of time", trends(c));
      section(text, "each group against all others", contrasts(c));
    }
    section(text, "reproducibility of the set-up", setUps(c));
    if (!c.notes().isEmpty()) {
      text.append('\n');
    }
    c.notes().forEach(n -> line(text, "Note: " + n + "."));
    return text.toString();
  }

  private static String across(Comparison c) {
    return c.gauges().stream().map(g -> g.across().several()).findFirst().orElse("");
  }

  private static void signals(StringBuilder text, Comparison c, boolean all) {
    List<ControlChartSignalWords.Said> said = ControlChartSignalWords.of(c);
    TextColumns table = new TextColumns(WIDEST, "quantity", "range", "at", "run", "what");
    said.stream()
        .limit(all ? said.size() : MOST_SIGNALS)
        .forEach(
            s ->
                table.row(
                    s.of().what().quantity().inWords(),
                    s.of().what().range().orElse(""),
                    MeasurandWords.at(s.of().what()),
                    s.where(),
                    s.words()));
    section(text, "signals of the control charts", table);
    if (!said.isEmpty()) {
      int more = all ? 0 : Math.max(0, said.size() - MOST_SIGNALS);
      line(text, (more > 0 ? more + " more with --all. " : "") + ControlChartSignalWords.CHANCE);
    }
  }

  private static TextColumns trends(Comparison c) {
    TextColumns table =
        new TextColumns(
            WIDEST, "group", "quantity", "range", "at", "units", "first to last", "p", "");
    for (Comparison.Drifting t : c.trends()) {
      table.row(
          t.group().map(DriftWords::named).orElse("all"),
          t.what().quantity().inWords(),
          t.what().range().orElse(""),
          MeasurandWords.at(t.what()),
          String.valueOf(t.trend().n()),
          DriftWords.signed(t),
          NumberText.significant(t.trend().probability(), 2),
          c.drifts(t) ? "drifts" : "");
    }
    return table;
  }

  private static void line(StringBuilder text, String line) {
    text.append(TextColumns.plain(line)).append('\n');
  }

  private static void section(StringBuilder text, String title, TextColumns table) {
    if (!table.empty()) {
      text.append('\n').append(title).append('\n').append(table.text());
    }
  }

  private static TextColumns quantities(Comparison c) {
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
    return table;
  }

  private static void quantity(TextColumns table, BatchDistribution d) {
    Measurand m = d.what();
    if (d.statistics().isEmpty()) {
      return;
    }
    BatchDistribution.Statistics s = d.statistics().get();
    table.row(
        m.quantity().inWords(),
        m.range().orElse(""),
        MeasurandWords.at(m),
        String.valueOf(s.spread().n()),
        MeasurandWords.among(s.spread(), s.spread().mean(), m),
        MeasurandWords.scatter(s.spread(), m),
        MeasurandWords.among(s.spread(), s.spread().least(), m),
        MeasurandWords.among(s.spread(), s.spread().largest(), m),
        d.limit().map(l -> ResultFigures.limit(l, m.quantity().unit())).orElse(""),
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
    for (BatchDistribution d : c.distributions()) {
      List<Long> runs =
          d.statistics().map(BatchDistribution.Statistics::outliers).orElse(List.of());
      if (!runs.isEmpty() && d.judged()) {
        table.row(
            d.what().quantity().inWords(),
            d.what().range().orElse(""),
            MeasurandWords.at(d.what()),
            ComparisonWords.named(d, runs));
      }
    }
    return table;
  }

  /** The drifts: all of them for one unit, only the notable ones for several. */
  private static TextColumns drifts(Comparison c, boolean all) {
    boolean one = c.drifts().stream().map(d -> d.later().unit()).distinct().count() == 1;
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
      if (!all && !one && !d.change().significant()) {
        continue;
      }
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
        new TextColumns(WIDEST, "group", "quantity", "range", "at", "difference", "p", "");
    for (Comparison.Contrast k : ComparisonHighlights.likeliestFirst(c)) {
      table.row(
          DriftWords.named(k.group()),
          k.what().quantity().inWords(),
          k.what().range().orElse(""),
          MeasurandWords.at(k.what()),
          ComparisonWords.difference(k),
          NumberText.significant(k.comparison().probability(), 2),
          c.differs(k) ? "differs" : "");
    }
    return table;
  }

  private static TextColumns gauges(Comparison c) {
    TextColumns table =
        new TextColumns(
            WIDEST,
            "bench",
            "quantity",
            "range",
            "at",
            "of tolerance",
            "categories",
            "repeatability",
            "reproducibility",
            "units",
            "");
    for (Comparison.Gauge g : GaugeVerdict.worstFirst(c)) {
      var v = g.study().components();
      table.row(
          GaugeVerdict.words(g),
          g.what().quantity().inWords(),
          g.what().range().orElse(""),
          MeasurandWords.at(g.what()),
          GaugeVerdict.ofTolerance(g),
          ComparisonWords.categories(g),
          ComparisonWords.root(v.repeatability(), g, GaugeIntervals::repeatability),
          ComparisonWords.root(v.operator() + v.interaction(), g, GaugeIntervals::reproducibility),
          ComparisonWords.root(v.unit(), g, GaugeIntervals::units),
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
          ResultFigures.number(s.loadOhm(), "ohm"),
          String.valueOf(s.connectionsPpm().n()),
          ComparisonWords.scatter(s.connectionsPpm()),
          ComparisonWords.setUpInterval(c, s),
          ResultFigures.size(s.noisePpm(), "ppm"),
          s.connectionsPpm().enoughForReproducibility()
              ? ComparisonWords.setUpWords(s)
              : "fewer than 10 connections");
    }
    return table;
  }
}
