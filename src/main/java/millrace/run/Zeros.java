package millrace.run;

import java.util.HashMap;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.evidence.Signal;

/** The last zero of each range of the current meter. Single-threaded. */
final class Zeros {
  /** Under which name points keep the range of the current meter. */
  static final String RANGE = "current meter range";

  private final Map<String, Double> byRange;

  Zeros(Map<String, Double> before) {
    byRange = new HashMap<>(before);
  }

  static String rangeOf(Map<String, String> settings) {
    return settings.getOrDefault(RANGE, "");
  }

  static boolean isCurrent(Signal signal) {
    return signal == Signal.CURRENT;
  }

  void take(Map<String, String> settings, double zeroA) {
    byRange.put(rangeOf(settings), zeroA);
  }

  OptionalDouble of(Map<String, String> settings) {
    Double zero = byRange.get(rangeOf(settings));
    return zero == null ? OptionalDouble.empty() : OptionalDouble.of(zero);
  }
}
