// SPDX-License-Identifier: Apache-2.0
package millrace.planning.meters;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.bench.BenchFile;
import millrace.bench.RoleFacts;
import millrace.bench.role.RoleName;
import millrace.calibration.AccuracyStatement;
import millrace.planning.meters.AccuracyGroup.Kind;
import millrace.quantity.NumberText;

/**
 * The accuracy statements of a bench, which the search replaces by others of the same proportions.
 * Corrections from certificates are then left out: the statement covers every error of an
 * instrument. Immutable.
 */
final class StatedAccuracies {
  /** The roles whose accuracy matters. */
  private static final List<RoleName> ROLES =
      List.of(
          RoleName.CURRENT_METER,
          RoleName.SHUNT_VOLTMETER,
          RoleName.VOLTMETER,
          RoleName.LOAD,
          RoleName.UNIT_THERMOMETER,
          RoleName.SHUNT_THERMOMETER,
          RoleName.CHAMBER);

  private static final int DIGITS = 3;

  private final BenchFile bench;
  private final List<AccuracyGroup> groups = new ArrayList<>();

  StatedAccuracies(BenchFile bench) {
    this.bench = bench;
    for (RoleName role : ROLES) {
      own(role).map(RoleFacts::accuracy).orElse(List.of()).forEach(a -> add(role, a));
    }
  }

  private Optional<RoleFacts> own(RoleName role) {
    return bench.instruments().values().stream()
        .flatMap(e -> Optional.ofNullable(e.roles().get(role)).stream())
        .findFirst();
  }

  private void add(RoleName role, AccuracyStatement a) {
    if (a.ofReading() + a.ofFullScale() + a.absolute() > 0) {
      groups.add(new AccuracyGroup(role, a.fullScale(), Kind.ACCURACY, a));
    }
    if (a.transfer().orElse(0.0) > 0) {
      groups.add(new AccuracyGroup(role, a.fullScale(), Kind.LINEARITY, a));
    }
  }

  /** The parts that can be scaled. */
  List<AccuracyGroup> groups() {
    return List.copyOf(groups);
  }

  /** The bench with every statement multiplied by the factor of its group. */
  BenchFile with(Map<AccuracyGroup, Double> factors) {
    BenchFile other = bench;
    for (BenchFile.Entry entry : bench.instruments().values()) {
      Map<RoleName, RoleFacts> roles = new EnumMap<>(RoleName.class);
      entry.roles().forEach((role, facts) -> roles.put(role, with(role, facts, factors)));
      other = other.with(with(entry, roles));
    }
    return other;
  }

  private static BenchFile.Entry with(BenchFile.Entry e, Map<RoleName, RoleFacts> roles) {
    return new BenchFile.Entry(
        e.place(),
        e.name(),
        e.driver(),
        e.address(),
        roles,
        e.settings(),
        e.words(),
        e.certificate(),
        e.identity(),
        e.warmUp());
  }

  private RoleFacts with(RoleName role, RoleFacts facts, Map<AccuracyGroup, Double> factors) {
    if (!ROLES.contains(role)) {
      return facts;
    }
    return new RoleFacts(
        facts.accuracy().stream().map(a -> with(role, a, factors)).toList(),
        List.of(),
        facts.box(),
        facts.allowed());
  }

  private AccuracyStatement with(
      RoleName role, AccuracyStatement a, Map<AccuracyGroup, Double> factors) {
    AccuracyStatement scaled = a;
    for (AccuracyGroup group : groups) {
      if (group.isOf(role, a)) {
        scaled = scaled(scaled, group.kind(), factors.getOrDefault(group, 1.0));
      }
    }
    return scaled;
  }

  /**
   * A statement with one part multiplied by a factor, with the digits of a table: rounded down, so
   * that the printed value is good enough.
   */
  static AccuracyStatement scaled(AccuracyStatement a, Kind kind, double factor) {
    boolean linearity = kind == Kind.LINEARITY;
    double f = linearity ? 1 : factor;
    return new AccuracyStatement(
        a.fullScale(),
        down(a.ofReading() * f),
        down(a.ofFullScale() * f),
        down(a.absolute() * f),
        a.coverageFactor(),
        a.transfer().map(t -> linearity ? down(t * factor) : t),
        a.noise(),
        down(a.tempcoPerK() * f),
        a.bandDegC(),
        a.burdenOhm(),
        a.burdenUncertainty(),
        a.inputOhm(),
        a.inputUncertainty());
  }

  private static double down(double value) {
    if (value <= 0) {
      return 0;
    }
    double step = NumberText.powerOfTen(NumberText.decade(value) - DIGITS + 1);
    double floor = Math.floor(value / step * (1 + 1e-9)) * step;
    return NumberText.parse(NumberText.significant(floor, DIGITS)).orElse(floor);
  }
}
