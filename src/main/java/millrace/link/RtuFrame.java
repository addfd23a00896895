// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import com.digitalpetri.modbus.Crc16;
import com.digitalpetri.modbus.ModbusRtuResponseFrameParser;
import com.digitalpetri.modbus.ModbusRtuResponseFrameParser.Accumulated;
import com.digitalpetri.modbus.ModbusRtuResponseFrameParser.ParseError;
import com.digitalpetri.modbus.ModbusRtuResponseFrameParser.ParserState;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.HexFormat;
import java.util.Optional;

/**
 * A reply that is a frame of Modbus RTU: address, function, data, and two check bytes (Modbus over
 * Serial Line V1.02, 2.5.1). How long it is follows from its function. The library's parser is
 * given one byte after another, so that what follows the frame stays where it is.
 */
final class RtuFrame implements ReplyFrame {
  /** The longest frame there is (Modbus over Serial Line V1.02, 2.5.1). */
  static final int MOST_BYTES = 256;

  private static final int CHECK_BYTES = 2;
  private static final int SHORTEST = 4;
  private static final HexFormat HEX = HexFormat.of().withUpperCase();

  private final ModbusRtuResponseFrameParser parser = new ModbusRtuResponseFrameParser();
  private final byte[] bytes = new byte[MOST_BYTES];
  private int length;
  private boolean whole;
  private Optional<String> fault = Optional.empty();

  /**
   * A request as it goes over the line.
   *
   * @param hex address, function and data as hex digits, two a byte
   * @return the bytes with their check bytes, one character a byte
   * @throws IllegalArgumentException if the text is no row of hex digits, or too short or long
   */
  static String wire(String hex) {
    int n = hex.length() / 2 + CHECK_BYTES;
    if (hex.length() % 2 != 0 || n < SHORTEST || n > MOST_BYTES || !hex.matches("[0-9A-Fa-f]+")) {
      throw new IllegalArgumentException(
          "%s is no request of Modbus RTU; expected 4 to 508 hex digits, two a byte"
              .formatted(WireText.quoted(hex)));
    }
    byte[] request = HEX.parseHex(hex);
    return new String(request, StandardCharsets.ISO_8859_1) + check(request, request.length);
  }

  /** The check bytes of the first bytes, low byte first, one character a byte. */
  private static String check(byte[] bytes, int count) {
    Crc16 crc = new Crc16();
    crc.update(ByteBuffer.wrap(bytes, 0, count));
    int value = crc.getValue();
    return "" + (char) (value & 0xff) + (char) (value >> 8 & 0xff);
  }

  /**
   * How long a line must be silent between frames: 3.5 characters of 11 bits, and 1.75 ms above
   * 19200 bits per second (Modbus over Serial Line V1.02, 2.5.1.1); nothing on a socket.
   */
  static Duration silence(LinkAddress address) {
    if (address instanceof LinkAddress.Serial serial) {
      return serial.rate() > 19_200 ? Duration.ofNanos(1_750_000) : characters(serial, 3.5);
    }
    return Duration.ZERO;
  }

  /** How long that many characters are under way; nothing on a socket. */
  static Duration characters(LinkAddress address, double count) {
    return address instanceof LinkAddress.Serial serial
        ? Duration.ofNanos(Math.round(count * 11e9 / serial.rate()))
        : Duration.ZERO;
  }

  @Override
  public int take(byte[] from, int start, int to) {
    int at = start;
    while (at < to && !whole && fault.isEmpty()) {
      one(from[at++]);
    }
    return at;
  }

  private void one(byte b) {
    if (length == MOST_BYTES) {
      fault = Optional.of("announces more than the 256 bytes that a frame may have");
      return;
    }
    bytes[length++] = b;
    ParserState state = parser.parse(new byte[] {b});
    if (state instanceof ParseError) {
      fault = Optional.of("has a function code that is none of its functions");
    } else if (state instanceof Accumulated) {
      end();
    }
  }

  private void end() {
    String right = check(bytes, length - CHECK_BYTES);
    String there = latin(length - CHECK_BYTES, length);
    if (there.equals(right)) {
      whole = true;
    } else {
      fault = Optional.of("has check bytes " + hex(there) + " instead of " + hex(right));
    }
  }

  private String latin(int from, int to) {
    return new String(bytes, from, to - from, StandardCharsets.ISO_8859_1);
  }

  private static String hex(String latin) {
    return HEX.formatHex(latin.getBytes(StandardCharsets.ISO_8859_1));
  }

  @Override
  public boolean whole() {
    return whole;
  }

  @Override
  public Optional<String> fault() {
    return fault;
  }

  /** Address, function and data as hex digits. */
  @Override
  public String text() {
    return HEX.formatHex(bytes, 0, Math.max(0, length - CHECK_BYTES));
  }

  @Override
  public String wanted() {
    return "a frame of Modbus RTU with right check bytes";
  }

  @Override
  public String begun() {
    return HEX.formatHex(bytes, 0, length);
  }

  @Override
  public void reset() {
    parser.reset();
    length = 0;
    whole = false;
    fault = Optional.empty();
  }
}
