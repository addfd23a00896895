// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.reduction.CertificateCorrectionTable;
import millrace.analysis.reduction.MeanMeterReading;
import millrace.analysis.reduction.MeterErrors;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.bench.BenchFile;
import millrace.bench.RoleFacts;
import millrace.bench.role.RoleName;
import millrace.calibration.AccuracyStatement;
import millrace.calibration.CertificateCorrectionLine;
import millrace.evidence.MeasuredSignal;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/** The statements of the bench file on one meter, by its range. */
final class StatedMeterErrors {
  /** Allowed ratio of input resistances, since a meter reports only the decade. */
  private static final double SAME_INPUT = 0.1;

  private final String instrument;
  private final Optional<RoleFacts> facts;
  private final Dimension dimension;
  private final String unit;

  StatedMeterErrors(BenchFile bench, RoleName role, MeasuredSignal signal, String unit) {
    this.instrument = bench.in(role).map(BenchFile.Entry::name).orElse(role.text());
    this.facts = bench.facts(role);
    this.dimension = signal == MeasuredSignal.CURRENT ? Dimension.CURRENT : Dimension.VOLTAGE;
    this.unit = unit;
  }

  /**
   * Full scale of the range of a reading: as the meter reported it, else the smallest stated range
   * that contains the reading.
   */
  private double fullScale(double reading, String range) {
    if (!range.isEmpty()) {
      return QuantityText.parse(range, dimension);
    }
    double size = Math.abs(reading);
    return facts.map(RoleFacts::accuracy).orElse(List.of()).stream()
        .flatMap(a -> a.fullScale().stream())
        .filter(f -> f >= size)
        .min(Comparator.naturalOrder())
        .orElse(size);
  }

  /** The unit of its readings, A or V. */
  Dimension dimension() {
    return dimension;
  }

  private AccuracyStatement accuracy(double reading, String range) {
    return facts.flatMap(f -> f.forRange(fullScale(reading, range))).orElse(AccuracyStatement.NONE);
  }

  /** Whether anything is stated of the meter there. */
  boolean states(double reading, String range) {
    return !accuracy(reading, range).equals(AccuracyStatement.NONE);
  }

  /** A mean indication, with the stated errors in that range. */
  MeanMeterReading reading(
      Estimate mean, String range, String point, Optional<MeterErrors.Lab> lab) {
    double fullScale = fullScale(mean.value(), range);
    return new MeanMeterReading(
        mean,
        accuracy(mean.value(), range),
        new MeterErrors.MeterRange(instrument, fullScale, unit),
        point,
        lab);
  }

  List<String> notes(double reading, String range) {
    AccuracyStatement a = accuracy(reading, range);
    if (!states(reading, range)) {
      return List.of(
          "the bench file states no accuracy of '%s': only noise counts".formatted(instrument));
    }
    return a.transfer().isEmpty() && a.ofFullScale() > 0
        ? List.of(MeterErrors.NO_TRANSFER)
        : List.of();
  }

  CertificateCorrectionTable corrections(double reading, String range) {
    List<CertificateCorrectionLine> lines = facts.map(RoleFacts::corrections).orElse(List.of());
    String instance = instrument + " " + fullScale(reading, range) + " " + unit;
    return CertificateCorrectionTable.of(instance, unit, lines);
  }

  /** The meter's resistance in the loop, ohm. */
  Estimate burdenOhm(double reading, String range) {
    AccuracyStatement a = accuracy(reading, range);
    return resistance("burden", a.burdenOhm(), a.burdenUncertainty(), reading, range);
  }

  /**
   * The meter's input resistance, ohm: as the meter reports it, else as stated; empty without
   * either.
   */
  Optional<Estimate> inputOhm(double reading, String range, OptionalDouble said) {
    AccuracyStatement a = accuracy(reading, range);
    Optional<Double> ohm = said.isPresent() ? Optional.of(said.getAsDouble()) : a.inputOhm();
    return ohm.map(r -> resistance("input resistance", r, a.inputUncertainty(), reading, range));
  }

  /** A note if the meter reports an input resistance that differs from the bench file. */
  Optional<String> otherInput(double reading, String range, OptionalDouble said) {
    return accuracy(reading, range)
        .inputOhm()
        .filter(r -> said.isPresent() && Math.abs(said.getAsDouble() / r - 1) > SAME_INPUT)
        .map(
            r ->
                "'%s' says that its input is %s, the bench file %s: what the meter says is counted with"
                    .formatted(
                        instrument,
                        QuantityText.print(said.getAsDouble(), Dimension.RESISTANCE, 3),
                        QuantityText.print(r, Dimension.RESISTANCE, 3)));
  }

  private Estimate resistance(
      String what, double ohm, double uRatio, double reading, String range) {
    String instance = instrument + " " + fullScale(reading, range) + " " + unit;
    return Estimate.exact(ohm)
        .with(
            ErrorSource.normal(
                what, ErrorSource.INSTRUMENT_AND_RANGE, instance, uRatio * ohm, "ohm"),
            1);
  }
}
