// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import millrace.bench.role.RoleName;
import millrace.evidence.setting.MeterSettings;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.Test;

class KnownSettingsTest {
  private static final MeterSettings TOLD = MeterSettings.of(Map.of("range", "10 V"));

  private final VirtualClock clock = new VirtualClock(Instant.parse("2026-11-25T18:00:00Z"));
  private final KnownSettings known = new KnownSettings(clock);

  @Test
  void whatWasToldOverThisConnectionIsKnown() {
    known.remember(RoleName.VOLTMETER, TOLD, 3);
    assertEquals(Optional.of(TOLD), known.of(RoleName.VOLTMETER, 3));
    assertEquals(Optional.empty(), known.of(RoleName.CURRENT_METER, 3));
  }

  @Test
  void afterTheLinkWasOpenedAgainNothingIsKnown() {
    known.remember(RoleName.VOLTMETER, TOLD, 3);
    assertEquals(Optional.empty(), known.of(RoleName.VOLTMETER, 4));
  }

  /** Somebody may have been at the panel. */
  @Test
  void afterFiveMinutesItIsAskedAgain() throws InterruptedException {
    known.remember(RoleName.VOLTMETER, TOLD, 3);
    clock.sleep(Duration.ofMinutes(5));
    assertEquals(Optional.of(TOLD), known.of(RoleName.VOLTMETER, 3));
    clock.sleep(Duration.ofSeconds(1));
    assertEquals(Optional.empty(), known.of(RoleName.VOLTMETER, 3));
  }

  @Test
  void whatIsSetAnewIsForgotten() {
    known.remember(RoleName.VOLTMETER, TOLD, 3);
    known.remember(RoleName.CURRENT_METER, TOLD, 3);
    known.forget(RoleName.VOLTMETER);
    assertEquals(Optional.empty(), known.of(RoleName.VOLTMETER, 3));
    known.forget();
    assertEquals(Optional.empty(), known.of(RoleName.CURRENT_METER, 3));
  }
}
