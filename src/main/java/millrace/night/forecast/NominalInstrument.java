// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import millrace.bench.role.Instrument;
import millrace.bench.role.RoleName;
import millrace.bench.role.SafeStateAssurance;

/**
 * The substitute for an instrument in a computed run: it has the ranges and abilities of the real
 * one, uses no link, and has no errors. Single-threaded.
 */
final class NominalInstrument implements Instrument {
  private final Instrument real;
  private final NominalRoles roles;

  NominalInstrument(Instrument real, NominalRoles roles) {
    this.real = real;
    this.roles = roles;
  }

  @Override
  public String name() {
    return real.name();
  }

  @Override
  public String identity() {
    return "SIMULATED: '" + name() + "' without errors, for a forecast";
  }

  /** What a person would do is asked of nobody, and taken as done. */
  @Override
  public boolean isByHand() {
    return real.isByHand();
  }

  @Override
  public <R> Optional<R> in(RoleName role, Class<R> face) {
    return real.in(role, face).map(able -> face.cast(roles.of(role, able)));
  }

  @Override
  public List<String> errors() {
    return List.of();
  }

  @Override
  public SafeStateAssurance makeSafe(Duration within) {
    return SafeStateAssurance.NOTHING_TO_DO;
  }

  @Override
  public void close() {
    real.close();
  }
}
