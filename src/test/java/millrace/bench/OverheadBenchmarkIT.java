// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fazecast.jSerialComm.SerialPort;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.Instrument;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.link.LinkAddress;
import millrace.link.PtyPair;
import millrace.time.SystemClock;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * What a question costs beyond the bare round trip: 12 bytes out, 17 back, the reply parsed into a
 * number by the driver, against the same bytes written and read by hand. Blocks of both alternate
 * in one thread and are answered by one other, and the medians are compared, so that a busy machine
 * disturbs both alike. A benchmark: it prints a ratio into {@code target/benchmarks} and asserts
 * nothing about it.
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

  /** What both kinds of round trip ask, in turns and always in the same thread. */
  private static final class Echo implements AutoCloseable {
    private record Turn(FarEnd end, int questions) {}

    private final BlockingQueue<Turn> turns = new LinkedBlockingQueue<>();
    private final Thread thread = new Thread(this::answer, "echo");

    Echo() {
      thread.setDaemon(true);
      thread.start();
    }

    void next(FarEnd end, int questions) {
      turns.add(new Turn(end, questions));
    }

    private void answer() {
      byte[] reply = REPLY.getBytes(StandardCharsets.US_ASCII);
      byte[] buffer = new byte[64];
      try {
        while (true) {
          Turn turn = turns.take();
          InputStream in = turn.end().in();
          OutputStream out = turn.end().out();
          for (int i = 0; i < turn.questions(); i++) {
            for (int n = 0; n == 0 || buffer[n - 1] != '\n'; ) {
              n += Math.max(0, in.read(buffer, n, buffer.length - n));
            }
            out.write(reply);
          }
        }
      } catch (IOException | InterruptedException e) {
        // The other side hung up, or the test is over.
      }
    }

    @Override
    public void close() throws InterruptedException {
      thread.interrupt();
      thread.join();
    }
  }

  /** What a question reaches. */
  private interface FarEnd {
    InputStream in() throws IOException;

    OutputStream out() throws IOException;
  }

  /** The end of a connection that is made at the first question. */
  private static final class Called implements FarEnd, AutoCloseable {
    private final ServerSocket server;
    private Socket socket;

    Called(ServerSocket server) {
      this.server = server;
    }

    @Override
    public InputStream in() throws IOException {
      if (socket == null) {
        socket = server.accept();
        socket.setTcpNoDelay(true);
      }
      return socket.getInputStream();
    }

    @Override
    public OutputStream out() throws IOException {
      return socket.getOutputStream();
    }

    @Override
    public void close() throws IOException {
      socket.close();
    }
  }

  /** The end of a pair of pseudo-terminals. */
  private record FarTerminal(InputStream in, OutputStream out) implements FarEnd {
    static FarTerminal of(PtyPair pair) throws IOException {
      return new FarTerminal(pair.farIn(), pair.farOut());
    }
  }

  /** One side of the comparison, and what it reaches at the other end. */
  private record Side(RoundTrip trip, FarEnd end) {}

  private Sensor sensor(Table table, LinkAddress address) throws Exception {
    Path drivers = Files.createDirectories(folder.resolve("drivers"));
    Files.writeString(drivers.resolve("echo.yaml"), DRIVER);
    Bench bench =
        table.bench(
            "bench: b\ninstruments:\n  x: {driver: echo, address: '"
                + address
                + "', roles: {unit thermometer: {}}}\n",
            Drivers.load(drivers),
            BenchOperator.NOBODY);
    Instrument x = bench.instruments().get("x");
    return x.in(RoleName.UNIT_THERMOMETER, Sensor.class).orElseThrow();
  }

  private static double ratio(Echo echo, Side bare, Side ours, int blocks, int size)
      throws Exception {
    double[] raw = new double[blocks];
    double[] asked = new double[blocks];
    for (int b = -2; b < blocks; b++) {
      double r = seconds(echo, bare, size);
      double o = seconds(echo, ours, size);
      if (b >= 0) {
        raw[b] = r;
        asked[b] = o;
      }
    }
    return median(asked) / median(raw);
  }

  private static double seconds(Echo echo, Side side, int n) throws Exception {
    echo.next(side.end(), n);
    SystemClock clock = new SystemClock();
    for (int i = 0; i < n; i++) {
      side.trip().go();
    }
    return clock.elapsed().toNanos() / 1e9;
  }

  private static RoundTrip asking(Sensor sensor) {
    return () -> assertTrue(sensor.read() instanceof Reply.Number);
  }

  private static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    return (sorted[(sorted.length - 1) / 2] + sorted[sorted.length / 2]) / 2;
  }

  private double socketRatio(int blocks, int size) throws Exception {
    try (Echo echo = new Echo();
        ServerSocket server = new ServerSocket(0, 2, InetAddress.getLoopbackAddress());
        Table table = new Table();
        Socket near = new Socket(server.getInetAddress(), server.getLocalPort());
        Called first = new Called(server);
        Called second = new Called(server)) {
      near.setTcpNoDelay(true);
      LinkAddress address = new LinkAddress.Tcp("127.0.0.1", server.getLocalPort());
      InputStream in = near.getInputStream();
      Side bare = new Side(bare(near.getOutputStream()::write, in::read), first);
      return ratio(echo, bare, new Side(asking(sensor(table, address)), second), blocks, size);
    }
  }

  /** Reads some bytes into a buffer. */
  private interface Ear {
    int hear(byte[] buffer, int at, int atMost) throws IOException;
  }

  /** Writes bytes. */
  private interface Pen {
    void write(byte[] bytes) throws IOException;
  }

  private static RoundTrip bare(Pen out, Ear in) {
    byte[] question = (QUESTION + "\n").getBytes(StandardCharsets.US_ASCII);
    byte[] reply = new byte[REPLY.length()];
    assertEquals(12, question.length);
    assertEquals(17, reply.length);
    return () -> {
      out.write(question);
      for (int n = 0; n < reply.length; ) {
        n += in.hear(reply, n, reply.length - n);
      }
    };
  }

  private double serialRatio(int blocks, int size) throws Exception {
    try (Echo echo = new Echo();
        Table table = new Table();
        PtyPair first = PtyPair.open(Files.createDirectory(folder.resolve("first")));
        PtyPair second = PtyPair.open(Files.createDirectory(folder.resolve("second")))) {
      SerialPort port = SerialPort.getCommPort(first.near().toString());
      port.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, 1000, 0);
      assertTrue(port.openPort());
      try {
        RoundTrip trip =
            bare(
                bytes -> port.writeBytes(bytes, bytes.length),
                (buffer, at, atMost) -> port.readBytes(buffer, atMost, at));
        LinkAddress address = LinkAddress.parse("serial " + second.near() + " 115200");
        return ratio(
            echo,
            new Side(trip, FarTerminal.of(first)),
            new Side(asking(sensor(table, address)), FarTerminal.of(second)),
            blocks,
            size);
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
    Path out = Files.createDirectories(Path.of("target", "benchmarks"));
    Files.writeString(
        out.resolve("overhead-per-question-" + way + ".csv"),
        "way,ratio_to_bare_round_trip\n"
            + way
            + ","
            + millrace.quantity.NumberText.print(ratio)
            + "\n");
  }
}
