// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.function.UnaryOperator;

/**
 * A strict device of Modbus RTU at the other end: a frame ends with silence and with nothing else,
 * and one with wrong check bytes is passed over without a word (Modbus over Serial Line V1.02,
 * 2.5.1). Its check bytes are computed here a second time, bit by bit.
 */
public final class RtuPeer implements AutoCloseable {
  private static final int SILENCE_MS = 40;
  private static final HexFormat HEX = HexFormat.of().withUpperCase();

  private final BlockingQueue<byte[]> pieces = new LinkedBlockingQueue<>();
  private final List<String> heard = new CopyOnWriteArrayList<>();
  private final UnaryOperator<String> manner;
  private final AutoCloseable end;

  private RtuPeer(UnaryOperator<String> manner, AutoCloseable end) {
    this.manner = manner;
    this.end = end;
  }

  /**
   * A device at the far end of a pair.
   *
   * @param manner what it answers to a right frame: bytes as hex digits, their check bytes already
   *     with them; nothing if empty
   */
  public static RtuPeer at(PtyPair pair, UnaryOperator<String> manner) throws IOException {
    RtuPeer peer = new RtuPeer(manner, () -> {});
    peer.listen(pair.farIn(), pair.farOut());
    return peer;
  }

  /** The same behind a socket, as behind a converter; it takes one connection after another. */
  public static Listening listening(UnaryOperator<String> manner) throws IOException {
    ServerSocket server = new ServerSocket(0, 5, InetAddress.getLoopbackAddress());
    RtuPeer peer = new RtuPeer(manner, server);
    peer.start(
        "rtu-accept",
        () -> {
          while (true) {
            Socket socket = server.accept();
            peer.listen(socket.getInputStream(), socket.getOutputStream());
          }
        });
    return new Listening(peer, new LinkAddress.Tcp("127.0.0.1", server.getLocalPort()));
  }

  /** A device and where it is. */
  public record Listening(RtuPeer peer, LinkAddress address) {}

  /** The frames with right check bytes that came, as hex digits without these. */
  public List<String> heard() {
    return heard;
  }

  private void listen(InputStream in, OutputStream out) {
    start(
        "rtu-in",
        () -> {
          byte[] buffer = new byte[300];
          for (int n = in.read(buffer); n > 0; n = in.read(buffer)) {
            pieces.add(Arrays.copyOf(buffer, n));
          }
        });
    start("rtu-talk", () -> talk(out));
  }

  private interface Task {
    void run() throws Exception;
  }

  private void start(String name, Task task) {
    Thread thread =
        new Thread(
            () -> {
              try {
                task.run();
              } catch (IOException | InterruptedException e) {
                // The other side is gone: the test is over.
              } catch (Exception e) {
                throw new AssertionError(e);
              }
            },
            name);
    thread.setDaemon(true);
    thread.start();
  }

  private void talk(OutputStream out) throws IOException, InterruptedException {
    while (true) {
      StringBuilder frame = new StringBuilder(HEX.formatHex(pieces.take()));
      for (byte[] more = next(); more != null; more = next()) {
        frame.append(HEX.formatHex(more));
      }
      answer(frame.toString(), out);
    }
  }

  private byte[] next() throws InterruptedException {
    return pieces.poll(SILENCE_MS, TimeUnit.MILLISECONDS);
  }

  private void answer(String frame, OutputStream out) throws IOException {
    String body = frame.substring(0, Math.max(0, frame.length() - 4));
    if (frame.length() >= 8 && frame.equals(checked(body))) {
      heard.add(body);
      out.write(HEX.parseHex(manner.apply(body)));
      out.flush();
    }
  }

  /** A frame with its check bytes, low byte first (Modbus over Serial Line V1.02, 6.2.2). */
  public static String checked(String body) {
    int crc = 0xffff;
    for (byte b : HEX.parseHex(body)) {
      crc ^= b & 0xff;
      for (int bit = 0; bit < 8; bit++) {
        crc = (crc & 1) == 1 ? crc >> 1 ^ 0xa001 : crc >> 1;
      }
    }
    return body + "%02X%02X".formatted(crc & 0xff, crc >> 8);
  }

  @Override
  public void close() throws Exception {
    end.close();
  }
}
