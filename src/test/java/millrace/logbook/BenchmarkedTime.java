// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import com.sun.management.OperatingSystemMXBean;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.Locale;
import millrace.time.SystemClock;

/**
 * What some work took in all: elapsed time, and processor time of this process and of one process
 * of the server, which do not depend on what else the machine does. Single-threaded.
 */
final class BenchmarkedTime {
  private static final double TICKS_PER_S = 100;

  private final SystemClock clock = new SystemClock();
  private final OperatingSystemMXBean system =
      (OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean();
  private double elapsedS;
  private double ownS;
  private double serverS;

  /** What is timed. */
  interface Work {
    void run() throws SQLException, IOException;
  }

  /** The number of the server's process that serves a connection. */
  static long process(Connection connection) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet answer = statement.executeQuery("SELECT pg_backend_pid()")) {
      answer.next();
      return answer.getLong(1);
    }
  }

  /** Does work that a process of the server has a part in, and adds what it took. */
  void add(long serverProcess, Work work) throws SQLException, IOException {
    Duration began = clock.elapsed();
    long own = system.getProcessCpuTime();
    double server = spentS(serverProcess);
    work.run();
    elapsedS += clock.elapsed().minus(began).toNanos() / 1e9;
    ownS += (system.getProcessCpuTime() - own) / 1e9;
    serverS += spentS(serverProcess) - server;
  }

  /** Processor time of a process, from proc(5), stat, fields utime and stime; 0 where it is not. */
  private static double spentS(long process) throws IOException {
    Path stat = Path.of("/proc", String.valueOf(process), "stat");
    if (!Files.isReadable(stat)) {
      return 0;
    }
    String[] fields = Files.readString(stat).replaceAll("^.*[)] ", "").split(" ");
    return (Long.parseLong(fields[11]) + Long.parseLong(fields[12])) / TICKS_PER_S;
  }

  double elapsedS() {
    return elapsedS;
  }

  double processorS() {
    return ownS + serverS;
  }

  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "%.2f s elapsed, %.2f s of processor time (%.2f s here, %.2f s in the server)",
        elapsedS,
        processorS(),
        ownS,
        serverS);
  }
}
