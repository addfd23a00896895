package millrace.analysis.response;

import java.util.List;

/**
 * Where a response holds (measurement.md 11.4): temperatures between the lowest and the highest
 * visited, within 1 K; voltages up to an edge that moves with temperature, within 2 % of it.
 *
 * @param visitsDegC temperatures of the visits, ascending
 * @param lowestDegC from where on, degC, without slack
 * @param highestDegC up to where, degC, without slack
 * @param corners up to which voltage at which temperature, linear between, ascending in temperature
 * @param lowestV the least voltage used, V
 * @param highestV the largest voltage used, V
 */
public record Domain(
    List<Double> visitsDegC,
    double lowestDegC,
    double highestDegC,
    List<Corner> corners,
    double lowestV,
    double highestV) {

  /**
   * How far the voltage goes at a temperature.
   *
   * @param temperatureDegC degC
   * @param upToV V
   */
  public record Corner(double temperatureDegC, double upToV) {}

  /** Copies the lists. */
  public Domain {
    visitsDegC = List.copyOf(visitsDegC);
    corners = List.copyOf(corners);
  }

  /**
   * Up to which voltage predictions hold at a temperature, without slack.
   *
   * @param temperatureDegC degC
   * @return V
   */
  public double edgeV(double temperatureDegC) {
    throw new UnsupportedOperationException();
  }

  /**
   * What would have to be measured for a condition.
   *
   * @param temperatureDegC degC
   * @param voltageV V
   * @return such as {@code measure at 50 degC}; empty inside the domain
   */
  public List<String> wanting(double temperatureDegC, double voltageV) {
    throw new UnsupportedOperationException();
  }
}
