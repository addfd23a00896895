package millrace.analysis.temperature;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.temperature.TemperatureStudy.Line;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.Estimate;

/**
 * What a drawing of current over temperature needs (measurement.md 5.2, 5.4): the stays with the
 * uncertainty they do not share with I_ref, the fits with their bands.
 *
 * @param referenceDegC T_ref, degC
 * @param stays in the order of time
 * @param straight the straight fit from the coldest to the hottest; empty if there is none
 * @param quadratic the quadratic fit likewise
 */
public record TemperaturePlot(
    double referenceDegC, List<Stay> stays, List<Band> straight, List<Band> quadratic) {

  /** Copies the lists. */
  public TemperaturePlot {
    stays = List.copyOf(stays);
    straight = List.copyOf(straight);
    quadratic = List.copyOf(quadratic);
  }

  /**
   * One stay.
   *
   * @param temperatureDegC T, degC
   * @param ppm I/I_ref - 1, ppm
   * @param expandedPpm U of it, ppm, 0 where none is known
   * @param timeS when, s
   */
  public record Stay(double temperatureDegC, double ppm, double expandedPpm, double timeS) {}

  /**
   * One place of a fit.
   *
   * @param temperatureDegC T, degC
   * @param ppm the fit, at the mean time of the stays, ppm
   * @param expandedPpm U of the fit, ppm, 0 where none is known
   */
  public record Band(double temperatureDegC, double ppm, double expandedPpm) {}

  /**
   * The drawing of a study.
   *
   * @param study the study
   * @param coverage probability of U
   * @param places how many places of each fit, 2 or more
   * @return the drawing; without stays where I_ref is zero
   */
  public static TemperaturePlot of(TemperatureStudy study, double coverage, int places) {
    List<Stay> stays = new ArrayList<>();
    for (TemperaturePoint p : study.points()) {
      if (study.referenceA().value() != 0) {
        Estimate ppm = study.ppm(p);
        stays.add(
            new Stay(p.temperatureDegC().value(), ppm.value(), expanded(ppm, coverage), p.timeS()));
      }
    }
    return new TemperaturePlot(
        study.referenceDegC(),
        stays,
        band(study, study.slope(), coverage, places),
        band(study, study.quadratic(), coverage, places));
  }

  private static List<Band> band(
      TemperatureStudy study, Optional<Line> line, double coverage, int places) {
    List<Band> band = new ArrayList<>();
    double from = study.coldest().temperatureDegC().value();
    for (int i = 0; line.isPresent() && i < places; i++) {
      double t = from + study.spanK() * i / (places - 1);
      Estimate ppm = line.get().at(t - study.referenceDegC());
      band.add(new Band(t, ppm.value(), expanded(ppm, coverage)));
    }
    return band;
  }

  private static double expanded(Estimate estimate, double coverage) {
    return estimate.hasUncertainty() ? Budget.of(estimate).uncertainty(coverage).expanded() : 0;
  }
}
