// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.io.IOException;
import java.io.OutputStream;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import millrace.quantity.NumberText;
import millrace.sim.fault.SimFault;
import millrace.time.Seeds;

/** Sends replies, good and faulty ones. */
final class SpoiltReplySender {
  private static final int CHUNK = 100_000;
  private static final int GARBAGE_BYTES = 40;

  private SpoiltReplySender() {}

  static void send(Socket socket, String text) throws IOException {
    send(socket, text.getBytes(StandardCharsets.ISO_8859_1));
  }

  private static void send(Socket socket, byte[] bytes) throws IOException {
    OutputStream out = socket.getOutputStream();
    out.write(bytes);
    out.flush();
  }

  static void spoil(SimFault fault, String reply, Socket socket) throws IOException {
    switch (fault.kind()) {
      case SILENCE -> {}
      case LATE_REPLY -> {
        RealTimeWait.rest(fault.size());
        send(socket, reply + "\n");
      }
      case GARBAGE -> send(socket, garbage(reply));
      case ENDLESS_LINE -> endless(socket, fault.size());
      default -> send(socket, spoilt(fault, reply));
    }
  }

  /** The replacement of the reply, end of line included. */
  private static String spoilt(SimFault fault, String reply) {
    return switch (fault.kind()) {
      case HALF_A_LINE -> reply.substring(0, (reply.length() + 1) / 2);
      case TWO_REPLIES -> reply + "\n" + reply + "\n";
      case WRONG_IDENTITY -> "BRACKWATER,QX-9,0,another instrument\n";
      case OVERLOAD -> instead("+9.90000000E+37", reply) + "\n";
      case NOT_A_NUMBER -> instead("+9.91000000E+37", reply) + "\n";
      case DECIMAL_COMMA -> reply.replace('.', ',') + "\n";
      case WILD_READING -> wild(reply, fault.size()) + "\n";
      case ENDS_WITH_CR -> reply + "\r";
      case ENDS_WITH_CRLF -> reply + "\r\n";
      case ENDS_WITH_NOTHING -> reply;
      default -> reply + "\n";
    };
  }

  private static String wild(String reply, double by) {
    double value = FaultInjector.number(reply).orElseThrow() * (1 + by);
    return instead(NumberText.format("%+.8E", value), reply);
  }

  /** In place of the number that a reply begins with. */
  private static String instead(String number, String reply) {
    return number + reply.replaceFirst("^[^ ;]*", "");
  }

  /** Equal replies get equal faults. */
  private static byte[] garbage(String reply) {
    byte[] bytes = new byte[GARBAGE_BYTES + 1];
    new Seeds(reply.hashCode()).stream("garbage").nextBytes(bytes);
    for (int i = 0; i < GARBAGE_BYTES; i++) {
      bytes[i] = bytes[i] == '\n' || bytes[i] == '\r' ? (byte) 0 : bytes[i];
    }
    bytes[GARBAGE_BYTES] = '\n';
    return bytes;
  }

  private static void endless(Socket socket, double count) throws IOException {
    byte[] chunk = new byte[CHUNK];
    Arrays.fill(chunk, (byte) '7');
    for (double sent = 0; sent < count; sent += CHUNK) {
      send(socket, chunk);
    }
  }
}
