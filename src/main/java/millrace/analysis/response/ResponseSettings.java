package millrace.analysis.response;

import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * What a response is told beside the measured points.
 *
 * @param referenceDegC T_ref, degC
 * @param taken coefficients from elsewhere, by range (measurement.md 11.6)
 */
public record ResponseSettings(double referenceDegC, Map<String, List<Taken>> taken) {

  /**
   * Coefficients from elsewhere.
   *
   * @param from where they come from
   * @param coefficients their values with the covariance of what is known of this unit's: the
   *     source's own and the spread between units
   */
  public record Taken(Foreign from, Coefficients coefficients) {}

  /** Copies the map. */
  public ResponseSettings {
    taken = Map.copyOf(taken);
  }

  /**
   * Nothing but the reference temperature: the defaults of measurement.md 11.1 count.
   *
   * @param degC T_ref, degC
   * @return the settings
   */
  public static ResponseSettings plain(double degC) {
    return new ResponseSettings(degC, Map.of());
  }

  /** What a range takes from elsewhere, the first that has a coefficient counts. */
  List<Taken> of(String range) {
    return Optional.ofNullable(taken.get(range)).orElse(List.of());
  }
}
