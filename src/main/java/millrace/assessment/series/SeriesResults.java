// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.series;

import java.util.AbstractList;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.RandomAccess;
import millrace.analysis.noise.LongRecord;
import millrace.analysis.series.AllanDeviation;
import millrace.analysis.series.Drift;
import millrace.analysis.series.Noise;
import millrace.analysis.series.TimeSeries;
import millrace.analysis.series.TimeSeriesRequest;
import millrace.analysis.settling.SettlingTime;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.noise.NoiseRecords;
import millrace.assessment.reduction.ReadingReduction;
import millrace.assessment.tally.RunReadingTallies;
import millrace.assessment.tally.TimeSeriesColumns;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;

/** Drift, noise, Allan deviation, settling and warm-up from readings over time. */
public final class SeriesResults {
  private static final double[] BANDS_PPM = {10, 2};
  private static final int WINDOWS = 4;
  private static final int BLOCKS = 100;
  private static final String UNCHECKED =
      "the current meter's own drift is part of it: no check standard was read before and after";
  private static final String WARM_UP = "warm-up";

  private final JudgementBasis basis;
  private final RunReadingTallies tallies;
  private final ReadingReduction reduction;
  private final NoiseRecords stability;

  /**
   * Made for one run.
   *
   * @param basis the basis of its judgement
   * @param tallies its readings
   * @param reduction gives the drift of the current meter
   * @param stability the records that give slow noise
   */
  public SeriesResults(
      JudgementBasis basis,
      RunReadingTallies tallies,
      ReadingReduction reduction,
      NoiseRecords stability) {
    this.stability = stability;
    this.basis = basis;
    this.tallies = tallies;
    this.reduction = reduction;
  }

  /** The study of a record; empty if its range or nominal current is not known. */
  public Optional<TimeRecordStudy> of(TimeSeriesColumns series) {
    PointConditions c = series.point().conditions();
    if (c.range().isEmpty() || c.nominalA().orElse(0) == 0) {
      return Optional.empty();
    }
    TimeSeries record = series.record();
    List<Result> results = new ArrayList<>();
    boolean warmUp = series.point().key().contains(WARM_UP);
    if (!warmUp) {
      TimeSeriesRequest question = question(series);
      results.add(drift(record, question, series.point()));
      results.addAll(Noise.of(record, question));
      results.addAll(AllanDeviation.results(record, question));
    }
    results.addAll(settling(record, c.range().get(), warmUp));
    return Optional.of(
        new TimeRecordStudy(
            c.range().get(),
            c.nominalA().getAsDouble(),
            record,
            results.stream().map(r -> under(r, series)).toList()));
  }

  /** The drift less that of the meter, as far as a check standard gives it. */
  private Result drift(TimeSeries record, TimeSeriesRequest question, Point point) {
    double fromS = record.timeS(0);
    double toS = fromS + record.durationS();
    Optional<Estimate> meter =
        toS > fromS ? reduction.meterPerHour(point, fromS, toS) : Optional.empty();
    Optional<LongRecord> beside =
        record.intervalS() > 0
            ? stability.beside(point, record.intervalS(), record.size())
            : Optional.empty();
    Result drift =
        Drift.of(record, question, meter.map(m -> m.times(1e6)).orElse(Estimate.exact(0)), beside);
    return meter.isPresent() || basis.bench().isEmpty() ? drift : drift.noting(UNCHECKED);
  }

  private TimeSeriesRequest question(TimeSeriesColumns series) {
    PointConditions c = series.point().conditions();
    return new TimeSeriesRequest(
        c.range().orElseThrow(),
        c.nominalA().orElseThrow(),
        "I_N",
        integrationS(series),
        floorPpm(series),
        basis.coverage());
  }

  private OptionalDouble integrationS(TimeSeriesColumns series) {
    OptionalDouble cycles = series.point().settings().currentMeter().lineCycles();
    return cycles.isPresent() && basis.bench().isPresent()
        ? OptionalDouble.of(cycles.getAsDouble() / basis.bench().get().lineFrequencyHz())
        : OptionalDouble.empty();
  }

  /** The meter's indication without current, in the same range and with the same integration. */
  private OptionalDouble floorPpm(TimeSeriesColumns series) {
    double nominal = Math.abs(series.point().conditions().nominalA().orElseThrow());
    return tallies.points(PointKind.ZERO).stream()
        .filter(z -> z.point().settings().equals(series.point().settings()))
        .flatMap(z -> z.of(MeasuredSignal.CURRENT).stream())
        .filter(s -> s.n() > 1)
        .mapToDouble(s -> Math.sqrt(s.variance()) / nominal * 1e6)
        .max();
  }

  private List<Result> settling(TimeSeries record, String range, boolean warmUp) {
    double span = record.durationS();
    List<Result> results = new ArrayList<>();
    if (!(span > 0)) {
      return results;
    }
    List<SettlingTime.Reading> readings = new FromItsStart(record);
    for (double band : BANDS_PPM) {
      results.add(
          SettlingTime.of(
              readings,
              new SettlingTime.Question(
                  range, warmUp, band, span / BLOCKS, span / WINDOWS, basis.coverage())));
    }
    return results;
  }

  /** The readings of a record with times from its first one, each made when it is asked for. */
  private static final class FromItsStart extends AbstractList<SettlingTime.Reading>
      implements RandomAccess {
    private final TimeSeries record;

    FromItsStart(TimeSeries record) {
      this.record = record;
    }

    @Override
    public SettlingTime.Reading get(int i) {
      return new SettlingTime.Reading(record.timeS(i) - record.timeS(0), record.currentA(i));
    }

    @Override
    public int size() {
      return record.size();
    }
  }

  /** The conditions distinguish results of several records of one range. */
  private static Result under(Result r, TimeSeriesColumns series) {
    PointConditions c = series.point().conditions();
    ResultConditions at = r.at();
    MeasuredSignal thermometer =
        series.has(MeasuredSignal.UNIT_TEMPERATURE)
            ? MeasuredSignal.UNIT_TEMPERATURE
            : MeasuredSignal.CHAMBER_TEMPERATURE;
    OptionalDouble degC =
        series.has(thermometer)
            ? Arrays.stream(series.values(thermometer)).average()
            : c.temperatureDegC();
    if (degC.isPresent()) {
      at =
          at.with(
              ResultConditionKey.TEMPERATURE_DEGC, Math.round(degC.getAsDouble() * 100) / 100.0);
    }
    if (c.loadOhm().isPresent()) {
      at = at.with(ResultConditionKey.LOAD_OHM, c.loadOhm().getAsDouble());
    }
    return new Result(
        r.quantity(),
        r.range(),
        at,
        r.outcome(),
        r.judgement(),
        r.budget(),
        r.ppmBase(),
        r.method(),
        r.notes(),
        r.model());
  }
}
