package millrace.analysis.load;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.Results;
import millrace.analysis.uncertainty.Results.Subject;
import millrace.evidence.At;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;

/**
 * How far the current is from nominal (measurement.md 3.7): (I at the reference, corrected to T_ref
 * by the fitted slope)/I_N - 1, its u carrying slope times u(T). Pure; thread-safe.
 */
public final class CurrentError {
  private CurrentError() {}

  /**
   * How the current is taken to the reference temperature.
   *
   * @param temperatureDegC of the unit when the current was measured, degC
   * @param referenceDegC T_ref, degC
   * @param slopePpmPerK the fitted slope, ppm/K; empty if none was fitted
   */
  public record ToReference(
      Estimate temperatureDegC, double referenceDegC, Optional<Estimate> slopePpmPerK) {
    Estimate corrected(Estimate currentA) {
      if (slopePpmPerK.isEmpty()) {
        return currentA;
      }
      Estimate away = temperatureDegC.plus(-referenceDegC);
      return currentA.minus(away.times(slopePpmPerK.get()).times(currentA.value() * 1e-6));
    }
  }

  /**
   * The error of the current (measurement.md 3.7).
   *
   * @param currentA the current at the reference load or voltage, A
   * @param question range, nominal, reference, coverage
   * @param toReference temperatures and slope; empty where no temperature is known
   * @param n how many data the current rests on
   * @return the error in ppm of I_N, a value or the reason why not
   */
  public static Result of(
      Estimate currentA, LoadQuestion question, Optional<ToReference> toReference, int n) {
    Subject subject =
        new Subject(
            ResultQuantity.CURRENT_ERROR,
            Optional.of(question.range()),
            LoadResults.referenceAt(question, At.NONE),
            Optional.of("I_N"),
            "I/I_N - 1 at the reference, corrected to T_ref, measurement.md 3.7",
            question.coverage());
    if (question.nominalA() == 0) {
      return Results.missing(subject, "the nominal current is 0, ppm are not counted of it", n);
    }
    List<String> notes = new ArrayList<>();
    Estimate corrected = currentA;
    if (toReference.isEmpty()) {
      notes.add("no temperature is known: not corrected to T_ref");
    } else {
      corrected = toReference.get().corrected(currentA);
      if (toReference.get().slopePpmPerK().isEmpty()) {
        notes.add("no temperature coefficient is known: not corrected to T_ref");
      }
    }
    Estimate ppm = corrected.times(1e6 / question.nominalA()).plus(-1e6);
    return Results.value(subject, ppm, n, notes);
  }

  /**
   * The reference for a study without a datasheet: the lowest load tested.
   *
   * @param points the points of the sweep
   * @return the reference; a short where no point names a load
   */
  public static LoadQuestion.Reference lowest(List<LoadPoint> points) {
    OptionalDouble least =
        points.stream()
            .filter(p -> p.loadOhm().isPresent())
            .mapToDouble(p -> p.loadOhm().getAsDouble())
            .min();
    return least.isPresent()
        ? LoadQuestion.Reference.atOhm(least.getAsDouble())
        : LoadQuestion.Reference.SHORT;
  }
}
