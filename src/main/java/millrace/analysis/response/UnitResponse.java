package millrace.analysis.response;

import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * What one unit does at any condition: one response per range, joined by one scatter between visits
 * (measurement.md 11). Immutable and thread-safe.
 */
public final class UnitResponse {
  private final Map<String, RangeResponse> ranges;
  private final Map<String, String> missing;

  private UnitResponse(Map<String, RangeResponse> ranges, Map<String, String> missing) {
    this.ranges = ranges;
    this.missing = missing;
  }

  /**
   * Fits (measurement.md 11.1, 11.2).
   *
   * @param data what was measured, by range
   * @param settings reference temperature and what comes from elsewhere
   * @return the responses
   */
  public static UnitResponse of(List<RangeData> data, ResponseSettings settings) {
    throw new UnsupportedOperationException();
  }

  /**
   * The response of a range.
   *
   * @param name the range
   * @return the response; empty where {@link #whyNot} says why
   */
  public Optional<RangeResponse> range(String name) {
    return Optional.ofNullable(ranges.get(name));
  }

  /**
   * All responses.
   *
   * @return by range, in the order of the data
   */
  public List<RangeResponse> ranges() {
    return List.copyOf(ranges.values());
  }

  /**
   * Why a range has no response.
   *
   * @param name the range
   * @return the reason in words; empty where it has one
   */
  public Optional<String> whyNot(String name) {
    return range(name).isPresent()
        ? Optional.empty()
        : Optional.of(missing.getOrDefault(name, "range " + name + " was not measured"));
  }
}
