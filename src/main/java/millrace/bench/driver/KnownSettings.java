// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.time.Duration;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import millrace.bench.role.RoleName;
import millrace.evidence.setting.MeterSettings;
import millrace.time.TimeSource;

/**
 * What the meters of one instrument said their settings are, so that nobody asks again at once what
 * is known: until the meter is set anew, its link is opened again, or some minutes have passed, in
 * which somebody may have been at its panel. The lock of the link keeps it to one conversation at a
 * time.
 */
final class KnownSettings {
  private static final Duration BELIEVED_FOR = Duration.ofMinutes(5);

  private final TimeSource time;
  private final Map<RoleName, Told> told = new EnumMap<>(RoleName.class);

  /** What was told over which connection, and when. */
  private record Told(MeterSettings settings, int epoch, Duration at) {}

  KnownSettings(TimeSource time) {
    this.time = time;
  }

  void remember(RoleName role, MeterSettings settings, int epoch) {
    told.put(role, new Told(settings, epoch, time.elapsed()));
  }

  void forget(RoleName role) {
    told.remove(role);
  }

  void forget() {
    told.clear();
  }

  /** What is known of a role over this connection; empty if it has to be asked. */
  Optional<MeterSettings> of(RoleName role, int epoch) {
    return Optional.ofNullable(told.get(role))
        .filter(t -> t.epoch() == epoch)
        .filter(t -> time.elapsed().minus(t.at()).compareTo(BELIEVED_FOR) <= 0)
        .map(Told::settings);
  }
}
