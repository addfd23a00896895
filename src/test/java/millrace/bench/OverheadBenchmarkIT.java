package millrace.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fazecast.jSerialComm.SerialPort;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Arrays;
import millrace.bench.Table.Way;
import millrace.bench.driver.Drivers;
import millrace.bench.role.Instrument;
import millrace.bench.role.Person;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.link.LinkAddress;
import millrace.link.Peer;
import millrace.link.PtyPair;
import millrace.time.SystemClock;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * What a question costs beyond the bare round trip: 12 bytes out, 17 back, the reply parsed into a
 * number by the driver, against the same bytes written and read by hand. Blocks of both alternate
 * in one thread and the medians are compared, so that a busy machine disturbs both alike. A
 * benchmark: it prints a ratio into {@code target/benchmarks} and asserts nothing about it.
 */
@Tag("campaign")
class OverheadBenchmarkIT {
  private static final String QUESTION = "MEAS:TEMP1?";
  private static final String REPLY = "+1.23456789E+01\r\n";
  private static final String DRIVER =
      "driver: echo\nunit thermometer:\n  read: {ask: '" + QUESTION + "'}\n";

  @TempDir private Path folder;

  /** One bare round trip. */
  private interface RoundTrip {
    void go() throws Exception;
  }

  private static void answer(String line, Peer.Mouth mouth) {
    if (!line.isEmpty()) {
      mouth.say(REPLY);
    }
  }

  private Sensor sensor(Table table, LinkAddress address) throws Exception {
    Path drivers = java.nio.file.Files.createDirectories(folder.resolve("drivers"));
    java.nio.file.Files.writeString(drivers.resolve("echo.yaml"), DRIVER);
    Bench bench =
        table.bench(
            "bench: b\ninstruments:\n  x: {driver: echo, address: '"
                + address
                + "', roles: {unit thermometer: {}}}\n",
            Drivers.load(drivers),
            Person.NOBODY);
    Instrument x = bench.instruments().get("x");
    return x.in(RoleName.UNIT_THERMOMETER, Sensor.class).orElseThrow();
  }

  private double ratio(RoundTrip bare, Sensor sensor, int blocks, int size) throws Exception {
    double[] raw = new double[blocks];
    double[] ours = new double[blocks];
    for (int b = -2; b < blocks; b++) {
      double r = seconds(bare, size);
      double o = seconds(() -> assertTrue(sensor.read() instanceof Reply.Number), size);
      if (b >= 0) {
        raw[b] = r;
        ours[b] = o;
      }
    }
    return median(ours) / median(raw);
  }

  private static double seconds(RoundTrip trip, int n) throws Exception {
    SystemClock clock = new SystemClock();
    for (int i = 0; i < n; i++) {
      trip.go();
    }
    return clock.elapsed().toNanos() / 1e9;
  }

  private static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    return (sorted[(sorted.length - 1) / 2] + sorted[sorted.length / 2]) / 2;
  }

  private double socketRatio(int blocks, int size) throws Exception {
    try (Table table = new Table(folder)) {
      LinkAddress.Tcp address =
          (LinkAddress.Tcp) table.put(Way.SOCKET, OverheadBenchmarkIT::answer);
      try (Socket socket = new Socket(address.host(), address.port())) {
        socket.setTcpNoDelay(true);
        InputStream in = socket.getInputStream();
        OutputStream out = socket.getOutputStream();
        byte[] question = (QUESTION + "\n").getBytes(StandardCharsets.US_ASCII);
        byte[] reply = new byte[REPLY.length()];
        assertEquals(12, question.length);
        assertEquals(17, reply.length);
        RoundTrip bare =
            () -> {
              out.write(question);
              for (int n = 0; n < reply.length; ) {
                n += in.read(reply, n, reply.length - n);
              }
            };
        return ratio(bare, sensor(table, address), blocks, size);
      }
    }
  }

  private double serialRatio(int blocks, int size) throws Exception {
    try (Table table = new Table(folder);
        PtyPair pair = PtyPair.open(folder)) {
      Peer.at(pair, OverheadBenchmarkIT::answer);
      SerialPort port = SerialPort.getCommPort(pair.near().toString());
      port.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, 1000, 0);
      assertTrue(port.openPort());
      byte[] question = (QUESTION + "\n").getBytes(StandardCharsets.US_ASCII);
      byte[] reply = new byte[REPLY.length()];
      RoundTrip bare =
          () -> {
            port.writeBytes(question, question.length);
            for (int n = 0; n < reply.length; ) {
              n += port.readBytes(reply, reply.length - n, n);
            }
          };
      try {
        LinkAddress other = table.put(Way.TERMINAL, OverheadBenchmarkIT::answer);
        return ratio(bare, sensor(table, other), blocks, size);
      } finally {
        port.closePort();
      }
    }
  }

  @Test
  void measuresAQuestionOverASocket() throws Exception {
    print("socket", socketRatio(20, 10_000));
  }

  @Test
  void measuresAQuestionOverATerminal() throws Exception {
    print("pseudo-terminal", serialRatio(20, 10_000));
  }

  /** One line per way, for people and programs to read. */
  private static void print(String way, double ratio) throws Exception {
    assertTrue(ratio > 0 && Double.isFinite(ratio));
    Path out = java.nio.file.Files.createDirectories(Path.of("target", "benchmarks"));
    java.nio.file.Files.writeString(
        out.resolve("overhead-per-question-" + way + ".csv"),
        "way,ratio_to_bare_round_trip\n"
            + way
            + ","
            + millrace.quantity.Numbers.print(ratio)
            + "\n");
  }
}
