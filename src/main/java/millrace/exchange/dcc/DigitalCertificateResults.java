// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.assessment.Assessment;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.Judgement;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultQuantity;
import millrace.evidence.RunOrigin;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.ReadingCursor;
import millrace.logbook.RunReader;

/** The results, equipment and conditions of a run in the form of a digital certificate. */
final class DigitalCertificateResults {
  private static final Map<ResultConditionKey, String> UNITS =
      Map.of(
          ResultConditionKey.LOAD_OHM, "ohm",
          ResultConditionKey.TERMINAL_VOLTAGE_V, "V",
          ResultConditionKey.TEMPERATURE_DEGC, "degC",
          ResultConditionKey.SUPPLY_V, "V",
          ResultConditionKey.SET_A, "A",
          ResultConditionKey.TAU_S, "s",
          ResultConditionKey.BANDWIDTH_HZ, "Hz",
          ResultConditionKey.DURATION_S, "s",
          ResultConditionKey.WITHIN_PPM, "ppm",
          ResultConditionKey.CRITERION, "1");

  private static final Map<MeasuredSignal, String> SURROUNDINGS =
      Map.of(
          MeasuredSignal.UNIT_TEMPERATURE, "degC",
          MeasuredSignal.LAB_TEMPERATURE, "degC",
          MeasuredSignal.HUMIDITY, "1");

  private final Assessment assessment;
  private final RunReader run;

  DigitalCertificateResults(Assessment assessment, RunReader run) {
    this.assessment = assessment;
    this.run = run;
  }

  void write(DccNode node) {
    boolean imported = assessment.run().start().origin() == RunOrigin.IMPORTED;
    node.words("dcc:name", "DC current of unit " + assessment.run().start().unit())
        .with(
            "dcc:usedMethods",
            m ->
                m.with(
                    "dcc:usedMethod",
                    u ->
                        u.words("dcc:name", assessment.run().start().title())
                            .words(
                                "dcc:description",
                                imported
                                    ? "readings taken elsewhere"
                                    : "sequence, run point after point on the bench",
                                rule())));
    equipment(node);
    influences(node);
    node.with("dcc:results", this::results);
  }

  private String rule() {
    return assessment.results().stream()
        .flatMap(r -> r.judgement().stream())
        .map(
            j ->
                "decision rule: "
                    + j.rule().kind().text()
                    + ", guard band of "
                    + j.rule().guardFactor()
                    + " U")
        .distinct()
        .reduce((a, b) -> a + "; " + b)
        .orElse("no limit applies");
  }

  private void equipment(DccNode node) {
    List<InstrumentEntry> used = run.instruments();
    if (!used.isEmpty()) {
      node.with(
          "dcc:measuringEquipments",
          all -> used.forEach(i -> all.with("dcc:measuringEquipment", e -> instrument(e, i))));
    }
  }

  private static void instrument(DccNode node, InstrumentEntry i) {
    node.words("dcc:name", i.roles());
    String certificate =
        i.certificate()
            .map(
                c ->
                    "certificate %s of %s%s"
                        .formatted(
                            c.number(),
                            c.laboratory(),
                            c.calibratedOn().map(d -> ", calibrated " + d).orElse("")))
            .orElse("no certificate stated");
    node.words("dcc:description", certificate)
        .with(
            "dcc:identifications",
            ids -> {
              String identity = i.identity().isBlank() ? i.name() : i.identity();
              ids.identification("other", identity, "identity");
              i.serial()
                  .filter(s -> !s.isBlank())
                  .ifPresent(s -> ids.identification("manufacturer", s, "serial number"));
              i.certificate()
                  .ifPresent(
                      c -> ids.identification("calibrationLaboratory", c.number(), "certificate"));
            });
  }

  private void influences(DccNode node) {
    List<Map.Entry<MeasuredSignal, DoubleSummaryStatistics>> read =
        List.of(
                MeasuredSignal.UNIT_TEMPERATURE,
                MeasuredSignal.LAB_TEMPERATURE,
                MeasuredSignal.HUMIDITY)
            .stream()
            .map(s -> Map.entry(s, seen(s)))
            .filter(e -> e.getValue().getCount() > 0)
            .toList();
    node.with(
        "dcc:influenceConditions",
        all -> {
          all.with(
              "dcc:influenceCondition",
              c ->
                  c.words("dcc:name", "reference temperature")
                      .with(
                          "dcc:data",
                          d -> exact(d, "", assessment.basis().referenceDegC(), "degC")));
          read.forEach(e -> influence(all, e.getKey(), e.getValue()));
        });
  }

  private static void influence(DccNode all, MeasuredSignal signal, DoubleSummaryStatistics seen) {
    String unit = SURROUNDINGS.get(signal);
    all.with(
        "dcc:influenceCondition",
        c ->
            c.words("dcc:name", signal.text())
                .with(
                    "dcc:data",
                    d -> {
                      exact(d, "mean", rounded(seen.getAverage()), unit);
                      exact(d, "least", rounded(seen.getMin()), unit);
                      exact(d, "most", rounded(seen.getMax()), unit);
                    }));
  }

  /** To thousandths, finer than the uncertainty of any room thermometer or hygrometer. */
  private static double rounded(double value) {
    return Math.rint(value * 1000) / 1000;
  }

  private DoubleSummaryStatistics seen(MeasuredSignal signal) {
    DoubleSummaryStatistics seen = new DoubleSummaryStatistics();
    try (ReadingCursor cursor = run.readings(List.of(signal))) {
      while (cursor.next()) {
        if (cursor.hasValue()) {
          seen.accept(cursor.value());
        }
      }
    }
    return seen;
  }

  private void results(DccNode node) {
    List<Result> told =
        assessment.results().stream()
            .filter(r -> r.judgement().isPresent() || r.quantity() == ResultQuantity.CURRENT)
            .toList();
    if (told.isEmpty()) {
      throw new IllegalArgumentException("a certificate has a result");
    }
    told.forEach(r -> node.with("dcc:result", n -> result(n, r)));
  }

  private static void result(DccNode node, Result r) {
    node.words("dcc:name", r.range().map(x -> x + ", ").orElse("") + r.quantity().inWords())
        .with("dcc:data", d -> d.with("dcc:quantity", q -> quantity(q, r)));
  }

  private static void quantity(DccNode node, Result r) {
    node.attribute("refType", "basic_measuredValue");
    Optional<String> text = value(node, r);
    text.ifPresent(words -> node.words("dcc:noQuantity", words));
    if (!r.at().all().isEmpty()) {
      node.with(
          "dcc:influenceConditions",
          all -> r.at().all().forEach((key, value) -> condition(all, key, value)));
    }
    r.judgement().ifPresent(j -> node.with("dcc:measurementMetaData", m -> decision(m, r, j)));
  }

  /** Writes a number with U, else the available alternative. */
  private static Optional<String> value(DccNode node, Result r) {
    return r.outcome()
        .accept(
            new ComputationOutcome.Visitor<Optional<String>>() {
              @Override
              public Optional<String> value(ComputationOutcome.Value v) {
                String unit = r.quantity().unit();
                v.uncertainty()
                    .filter(u -> u.expanded() > 0)
                    .ifPresentOrElse(
                        u -> DsiReal.measured(node, v.value(), u, unit),
                        () -> DsiReal.exact(node, v.value(), unit));
                return Optional.empty();
              }

              @Override
              public Optional<String> bound(ComputationOutcome.Bound b) {
                return Optional.of(
                    "%s %s %s".formatted(b.side().text(), b.value(), r.quantity().unit()));
              }

              @Override
              public Optional<String> missing(ComputationOutcome.Missing m) {
                return Optional.of("not computed: " + m.reason());
              }
            });
  }

  private static void condition(DccNode all, ResultConditionKey key, Object value) {
    all.with(
        "dcc:influenceCondition",
        c ->
            c.words("dcc:name", key.text())
                .with(
                    "dcc:data",
                    d -> {
                      if (value instanceof Double number && UNITS.containsKey(key)) {
                        exact(d, "", number, UNITS.get(key));
                      } else {
                        d.words("dcc:text", value.toString());
                      }
                    }));
  }

  private static void exact(DccNode data, String name, double value, String unit) {
    data.with(
        "dcc:quantity",
        q -> {
          if (!name.isEmpty()) {
            q.words("dcc:name", name);
          }
          DsiReal.exact(q, value, unit);
        });
  }

  private static void decision(DccNode node, Result r, Judgement j) {
    node.with(
        "dcc:metaData",
        m -> {
          m.attribute("refType", "basic_conformity");
          m.words("dcc:declaration", j.conformity().text());
          word(j.conformity()).ifPresent(w -> m.add("dcc:conformity", w));
          m.with(
              "dcc:data",
              d -> {
                side(d, "lower limit", j.limit().lower(), r);
                side(d, "upper limit", j.limit().upper(), r);
              });
        });
  }

  private static void side(DccNode data, String name, OptionalDouble limit, Result r) {
    limit.ifPresent(v -> exact(data, name, v, r.quantity().unit()));
  }

  /** The word of the schema; it has none for a limit that was not evaluated. */
  private static Optional<String> word(Conformity conformity) {
    return switch (conformity) {
      case PASS -> Optional.of("pass");
      case CONDITIONAL_PASS -> Optional.of("conditionalPass");
      case CONDITIONAL_FAIL -> Optional.of("conditionalFail");
      case FAIL -> Optional.of("fail");
      case NOT_EVALUATED -> Optional.empty();
    };
  }
}
