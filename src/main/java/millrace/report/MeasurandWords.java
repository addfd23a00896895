package millrace.report;

import java.util.Optional;
import millrace.analysis.batch.Capability;
import millrace.analysis.batch.Interval;
import millrace.analysis.batch.Share;
import millrace.evidence.Limit;
import millrace.evidence.Measurand;
import millrace.quantity.Numbers;

/** What is compared, in words and figures. */
final class MeasurandWords {
  private static final double PERCENT = 100;

  private MeasurandWords() {}

  static String name(Measurand m) {
    return m.quantity().inWords()
        + m.range().map(r -> " of " + r).orElse("")
        + (at(m).isEmpty() ? "" : ", " + at(m));
  }

  static String at(Measurand m) {
    String at = AtWords.of(m.at());
    if (!m.worst()) {
      return at;
    }
    return at.isEmpty() ? "at its worst point" : "at its worst point, " + at;
  }

  /** Four digits, in the unit of the quantity. */
  static String number(double value, Measurand m) {
    return Figures.number(value, m.quantity().unit());
  }

  static String limit(Optional<Limit> limit, Measurand m) {
    return limit.map(l -> Figures.rounded(l, m.quantity().unit())).orElse("");
  }

  static String interval(Interval interval, Measurand m) {
    return number(interval.lower(), m) + " to " + number(interval.upper(), m);
  }

  static String index(Capability.Index index) {
    return "%s (%s to %s)"
        .formatted(
            Numbers.fixed(index.value(), 2),
            Numbers.fixed(index.interval().lower(), 2),
            Numbers.fixed(index.interval().upper(), 2));
  }

  static String share(Share share) {
    return "%d of %d, %s %% (%s to %s %%)"
        .formatted(
            share.count(),
            share.of(),
            Numbers.fixed(PERCENT * share.value(), 1),
            Numbers.fixed(PERCENT * share.interval().lower(), 1),
            Numbers.fixed(PERCENT * share.interval().upper(), 1));
  }

  static String percent(double ratio) {
    return Numbers.significant(PERCENT * ratio, 3) + " %";
  }
}
