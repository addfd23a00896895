// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import com.sun.management.OperatingSystemMXBean;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.sql.SQLException;
import java.time.Duration;
import java.util.Locale;
import millrace.time.SystemClock;

/**
 * What some work took in all: elapsed time, and processor time of this process and of a server,
 * which hardly depends on what else the machine does. Single-threaded.
 */
public final class BenchmarkedTime {
  private final SystemClock clock = new SystemClock();
  private final OperatingSystemMXBean system =
      (OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean();
  private final Spent server;
  private double elapsedS;
  private double ownS;
  private double serverS;

  /** Processor time that a server has used until now, s. */
  public interface Spent {
    /** Asks. */
    double s() throws IOException;
  }

  /** What is timed. */
  public interface Work {
    /** Does it. */
    void run() throws SQLException, IOException;
  }

  /** Nothing yet, of work that a server has a part in. */
  public BenchmarkedTime(Spent server) {
    this.server = server;
  }

  /** Does work, and adds what it took. */
  public void add(Work work) throws SQLException, IOException {
    Duration began = clock.elapsed();
    long own = system.getProcessCpuTime();
    double there = server.s();
    work.run();
    elapsedS += clock.elapsed().minus(began).toNanos() / 1e9;
    ownS += (system.getProcessCpuTime() - own) / 1e9;
    serverS += server.s() - there;
  }

  /** How many times what another work took. */
  public String over(BenchmarkedTime reference) {
    return String.format(
        Locale.ROOT,
        "%.2f times the elapsed time, %.2f times the processor time",
        elapsedS / reference.elapsedS,
        (ownS + serverS) / (reference.ownS + reference.serverS));
  }

  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "%.2f s elapsed, %.2f s of processor time (%.2f s here, %.2f s in the server)",
        elapsedS,
        ownS + serverS,
        ownS,
        serverS);
  }
}
