package millrace.report;

import java.util.List;
import java.util.Map;
import java.util.function.UnaryOperator;
import millrace.analysis.batch.Interval;
import millrace.analysis.batch.Spread;
import millrace.analysis.batch.Yield;
import millrace.assessment.comparison.Compared;
import millrace.assessment.comparison.Comparison;
import millrace.assessment.comparison.Distribution;
import millrace.evidence.Measurand;
import millrace.evidence.Outcome;
import millrace.quantity.Dimension;
import millrace.quantity.Numbers;
import millrace.quantity.Quantities;

/** A comparison as tables for the terminal. Stateless, thread-safe. */
public final class ComparisonTable {
  private static final int WIDEST = 40;
  private static final int MOST_RUNS = 10;
  private static final int MOST_CANCELLED = 2;

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
    line(text, head(c));
    yieldLines(c).forEach(l -> line(text, l));
    if (!c.bins().isEmpty()) {
      line(text, "bins: " + bins(c.bins()));
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

  static String head(Comparison c) {
    long units = c.runs().stream().map(Compared::unit).distinct().count();
    return "%s%s of %s"
        .formatted(
            c.simulated() ? Sheet.SIMULATED + ": " : "",
            Numbers.counted(c.runs().size(), "run"),
            Numbers.counted(units, "unit"));
  }

  /** The yield of all, and of each batch where there are several. */
  static List<String> yieldLines(Comparison c) {
    boolean several = c.yields().size() > 2;
    return c.yields().entrySet().stream()
        .filter(e -> several || e.getKey().equals(Comparison.ALL))
        .map(e -> yieldWords(e.getKey(), e.getValue()))
        .toList();
  }

  static String yieldWords(String batch, Yield yield) {
    String which = batch.equals(Comparison.ALL) ? "yield" : "yield of " + batch;
    String refused =
        yield.refused() == 0
            ? ""
            : "; %s did not count (no cause, or too many)"
                .formatted(Numbers.counted(yield.refused(), "further test"));
    String after =
        yield.retests() == 0
            ? "no retests"
            : "after %s %s"
                .formatted(
                    Numbers.counted(yield.retests(), "retest"),
                    MeasurandWords.share(yield.afterRetest()));
    return "%s: first pass %s; %s%s"
        .formatted(which, MeasurandWords.share(yield.firstPass()), after, refused);
  }

  static String bins(Map<String, Long> bins) {
    return String.join(
        ", ", bins.entrySet().stream().map(e -> e.getKey() + " " + e.getValue()).toList());
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
          runs(k.runs()));
    }
    return table;
  }

  private static TextColumns repairs(Comparison c) {
    TextColumns table = new TextColumns(WIDEST, "unit", "run", "look at");
    for (Comparison.CauseCount k : c.causes()) {
      for (Comparison.Blamed b : k.boards()) {
        table.row(b.test().unit(), String.valueOf(b.test().run().id()), hint(b));
      }
    }
    return table;
  }

  /** Where a repairer looks. */
  static String hint(Comparison.Blamed blamed) {
    return blamed
        .diagnosis()
        .flatMap(RepairHint::of)
        .orElse("no cause is likelier than all others together");
  }

  /** The numbers of the first few. */
  static String runs(List<Long> runs) {
    String first = String.join(", ", runs.stream().limit(MOST_RUNS).map(String::valueOf).toList());
    return runs.size() > MOST_RUNS
        ? first + " and %s more".formatted(runs.size() - MOST_RUNS)
        : first;
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
            named(d, runs));
      }
    }
    return table;
  }

  /** Units and runs, the farthest first. */
  static String named(Distribution d, List<Long> runs) {
    List<String> names =
        runs.stream()
            .limit(MOST_RUNS)
            .map(
                id ->
                    d.entries().stream()
                        .filter(e -> e.run().run().id() == id)
                        .findFirst()
                        .map(e -> e.run().unit() + " (run " + id + ")")
                        .orElse("run " + id))
            .toList();
    int more = runs.size() - names.size();
    return String.join(", ", names) + (more > 0 ? " and %s more".formatted(more) : "");
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
          change(d),
          d.change().significant() ? "moved" : "",
          largest(d.change().cancelled()));
    }
    return table;
  }

  /** The first of what cancelled: the largest, since budgets are ordered so. */
  static String largest(List<String> cancelled) {
    if (cancelled.size() <= MOST_CANCELLED + 1) {
      return String.join(", ", cancelled);
    }
    return String.join(", ", cancelled.subList(0, MOST_CANCELLED))
        + " and %s smaller ones".formatted(cancelled.size() - MOST_CANCELLED);
  }

  static String change(Comparison.Drift d) {
    double u = d.change().uncertainty().map(Outcome.Uncertainty::expanded).orElse(0.0);
    return Figures.pair(d.change().value(), u, d.what().quantity().unit());
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
          difference(k),
          Numbers.significant(k.comparison().probability(), 2),
          StandsOut.differs(k, c) ? "differs" : "");
    }
    return table;
  }

  /** The difference of the means, and half of its interval. */
  static String difference(Comparison.Contrast k) {
    Interval i = k.comparison().interval();
    return Figures.pair(
        k.comparison().difference(), (i.upper() - i.lower()) / 2, k.what().quantity().unit());
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
          root(g.study().components().repeatability(), g.what()),
          root(g.study().components().operator() + g.study().components().interaction(), g.what()),
          root(g.study().components().unit(), g.what()),
          MeasurandWords.percent(g.study().ofStudy()),
          GaugeVerdict.ofTolerance(g),
          GaugeVerdict.words(g),
          categories(g),
          g.study().pooled() ? "interaction pooled" : "");
    }
    return table;
  }

  /** Standard deviation in ppm; empty text where one value has none. */
  static String scatter(Spread ppm) {
    return ppm.scatter().isPresent() ? Figures.size(ppm.scatter().getAsDouble(), "ppm") : "";
  }

  static String root(double variance, Measurand m) {
    return MeasurandWords.number(Math.sqrt(variance), m);
  }

  static String categories(Comparison.Gauge g) {
    return g.study().distinctCategories().isPresent()
        ? Numbers.fixed(g.study().distinctCategories().getAsDouble(), 0)
        : "";
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
          scatter(s.connectionsPpm()),
          setUpInterval(c, s),
          Figures.size(s.noisePpm(), "ppm"),
          s.connectionsPpm().enoughForReproducibility()
              ? setUpWords(s)
              : "fewer than 10 connections");
    }
    return table;
  }

  /** What stands under 'set-up reproducibility' in the wiring of a bench file. */
  static String setUpWords(Comparison.SetUpStudy s) {
    return "{range: %s, u: %s, connections: %s}"
        .formatted(
            Quantities.print(s.nominalA(), Dimension.CURRENT),
            Quantities.print(s.ownPpm() * 1e-6, Dimension.RATIO, 3),
            s.connectionsPpm().n());
  }

  static String setUpInterval(Comparison c, Comparison.SetUpStudy s) {
    var interval = s.connectionsPpm().sdInterval(c.coverage());
    return Figures.size(interval.lower(), "ppm") + " to " + Figures.size(interval.upper(), "ppm");
  }
}
