// SPDX-License-Identifier: Apache-2.0
package millrace.watch.bench;

import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Optional;
import java.util.Set;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.bench.BenchLock;
import millrace.bench.check.BenchCheck;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.InstrumentDriver.Surroundings;
import millrace.document.yaml.YamlFile;
import millrace.fault.InputFaultList;
import millrace.lock.LockHolder;
import millrace.night.BenchLimitCheck;
import millrace.night.BenchSession;
import millrace.time.SystemClock;

/**
 * The bench that a server shows: its file, read again each time, its user, and the last check
 * requested from the page. Thread-safe.
 */
public final class WatchedBench {
  private final Path path;
  private final Path drivers;
  private final Path locks;
  private final SystemClock time = new SystemClock();
  private Optional<Checked> last = Optional.empty();

  /**
   * A check that has been made.
   *
   * @param check the findings
   * @param file the bench file at that time
   * @param at the time
   */
  record Checked(BenchCheck check, BenchFile file, Instant at) {}

  /**
   * Makes it from a bench file.
   *
   * @param path the bench file
   * @param drivers the folder of drivers
   * @param locks the folder of this user's locks
   */
  public WatchedBench(Path path, Path drivers, Path locks) {
    this.path = path;
    this.drivers = drivers;
    this.locks = locks;
  }

  /**
   * The present bench file.
   *
   * @return its content
   * @throws millrace.fault.BadInputException if it is unreadable or wrong
   */
  BenchFile file() {
    return BenchForms.read(path.toString(), YamlFile.bytes(path));
  }

  /** The processes that have the bench now. */
  Set<LockHolder> holders(BenchFile file) {
    return BenchLock.announced(file, locks);
  }

  synchronized Optional<Checked> last() {
    return last;
  }

  LocalDate today() {
    return LocalDate.ofInstant(time.now(), ZoneOffset.UTC);
  }

  /**
   * Queries every instrument; sets nothing.
   *
   * @return the findings, in one line
   * @throws millrace.fault.InstrumentException if another process has the bench
   * @throws millrace.fault.BadInputException if its file is wrong
   */
  public synchronized String check() {
    try (BenchSession open =
        BenchSession.ofFile(
            path.toString(),
            YamlFile.bytes(path),
            Drivers.load(drivers),
            new Surroundings(time, BenchOperator.NOBODY),
            BenchSession.Links.TO_INSTRUMENTS)) {
      InputFaultList faults = new InputFaultList();
      BenchLimitCheck.missing(open.bench().file(), faults);
      faults.throwIfAny();
      open.bench().refuseSafeBeyond();
      open.hold();
      BenchCheck check = BenchCheck.of(open.bench(), today(), Optional.empty());
      last = Optional.of(new Checked(check, open.bench().file(), time.now()));
      return "Checked: " + BenchVerdict.counted(check.findings()) + ".";
    }
  }
}
