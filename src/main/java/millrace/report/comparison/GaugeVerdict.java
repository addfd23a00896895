// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import millrace.analysis.batch.GaugeIntervals;
import millrace.assessment.comparison.Comparison;
import millrace.assessment.comparison.Comparison.Gauge;
import millrace.quantity.NumberText;

/**
 * Verdict on whether a bench is good enough for a limit. It depends on the share of the tolerance
 * that the bench uses; 10 % and 30 % are the usual bounds (AIAG, Measurement Systems Analysis, 4th
 * edition, from memory).
 */
enum GaugeVerdict {
  TELLS_NOTHING("tells nothing"),
  GOOD("good enough"),
  WITH_CARE("with care"),
  TOO_COARSE("too coarse");

  private static final double GOOD_SHARE = 0.1;
  private static final double LARGEST_SHARE = 0.3;

  private final String text;

  GaugeVerdict(String text) {
    this.text = text;
  }

  private static Optional<Double> share(Gauge g) {
    return g.limit()
        .map(l -> g.study().ofTolerance(l))
        .filter(s -> s.isPresent())
        .map(s -> s.getAsDouble());
  }

  private static GaugeVerdict of(double share) {
    if (share < GOOD_SHARE) {
      return GOOD;
    }
    return share <= LARGEST_SHARE ? WITH_CARE : TOO_COARSE;
  }

  /** The share of the tolerance in percent with its interval; empty if there is no tolerance. */
  static String ofTolerance(Gauge g) {
    return share(g).map(s -> percent(s) + interval(g, s)).orElse("");
  }

  /** The interval of the share, which is proportional to the standard deviation of the gauge. */
  private static String interval(Gauge g, double share) {
    double sd = Math.sqrt(g.study().components().gauge());
    return g.intervals()
        .filter(i -> sd > 0)
        .map(GaugeIntervals::gauge)
        .map(
            i ->
                " (%s to %s)"
                    .formatted(percent(share * i.lower() / sd), percent(share * i.upper() / sd)))
        .orElse("");
  }

  private static String percent(double ratio) {
    return NumberText.significant(100 * ratio, 2) + " %";
  }

  /** The verdict in one or two words; empty if there is no tolerance. */
  static String words(Gauge g) {
    return empty(g) ? TELLS_NOTHING.text : share(g).map(s -> of(s).text).orElse("");
  }

  /** The studies in falling order of their share of the tolerance. */
  static List<Gauge> worstFirst(Comparison comparison) {
    return comparison.gauges().stream()
        .sorted(Comparator.comparingDouble(g -> -share(g).orElse(0.0)))
        .toList();
  }

  private static boolean empty(Gauge g) {
    return g.study().tellsNothing().isPresent();
  }

  /** The number of limits for which the bench is good enough; empty if there is no study. */
  static Optional<String> headline(Comparison comparison) {
    List<Gauge> all = comparison.gauges();
    if (all.isEmpty()) {
      return Optional.empty();
    }
    Map<String, Integer> counts = new LinkedHashMap<>();
    for (GaugeVerdict each : List.of(GOOD, WITH_CARE, TOO_COARSE, TELLS_NOTHING)) {
      counts.put(each.text, 0);
    }
    all.forEach(g -> counts.merge(words(g).isEmpty() ? "no limit" : words(g), 1, Integer::sum));
    String words =
        counts.entrySet().stream()
            .filter(e -> e.getValue() > 0)
            .map(e -> e.getKey() + " " + e.getValue())
            .collect(Collectors.joining(", "));
    return Optional.of("Gauge study of %s quantities: %s".formatted(all.size(), words));
  }

  /** The summary of all studies; empty if none has a tolerance and all are informative. */
  static Optional<String> sentence(Comparison comparison, UnaryOperator<String> set) {
    List<Gauge> judged =
        comparison.gauges().stream().filter(g -> !empty(g) && share(g).isPresent()).toList();
    Comparator<Gauge> byShare = Comparator.comparingDouble(g -> share(g).orElse(0.0));
    String all =
        Stream.of(
                judged.stream().max(byShare).map(most -> sentence(judged, most, set)),
                nothing(comparison.gauges(), set))
            .flatMap(Optional::stream)
            .collect(Collectors.joining(" "));
    return all.isEmpty() ? Optional.empty() : Optional.of(all);
  }

  /** The uninformative studies, with the reason for the first one. */
  private static Optional<String> nothing(List<Gauge> gauges, UnaryOperator<String> set) {
    List<Gauge> empty = gauges.stream().filter(GaugeVerdict::empty).toList();
    return empty.stream()
        .findFirst()
        .map(
            g ->
                "The study tells nothing %s, because %s."
                    .formatted(
                        empty.size() == gauges.size()
                            ? "of the bench"
                            : "in %s of %s quantities, as in %s"
                                .formatted(
                                    empty.size(),
                                    gauges.size(),
                                    MeasurandWords.name(g.what(), set)),
                        g.study().tellsNothing().orElseThrow()));
  }

  private static String sentence(List<Gauge> judged, Gauge most, UnaryOperator<String> set) {
    GaugeVerdict worst = of(share(most).orElse(0.0));
    long like = judged.stream().filter(g -> of(share(g).orElse(0.0)) == worst).count();
    String where =
        "in %s of %s quantities, most in %s: %s of the tolerance"
            .formatted(
                like, judged.size(), MeasurandWords.name(most.what(), set), ofTolerance(most));
    return switch (worst) {
      case TELLS_NOTHING -> throw new IllegalStateException("a study that tells nothing is judged");
      case GOOD -> "The bench is good enough for every limit, " + where + ".";
      case WITH_CARE -> "The bench takes more than a tenth of the tolerance " + where + ".";
      case TOO_COARSE ->
          "The bench is too coarse for the limits "
              + where
              + ". There it cannot tell good units from bad ones.";
    };
  }
}
