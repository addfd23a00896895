// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.UnaryOperator;
import millrace.bench.Table.Way;
import millrace.bench.role.Chamber;
import millrace.bench.role.Instrument;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.fault.InstrumentException;
import millrace.link.LinkAddress;
import millrace.link.PtyPair;
import millrace.link.RtuPeer;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The shipped driver for Modbus RTU against a strict controller, on a serial line and a socket. */
@Timeout(60)
class ModbusRtuIT {
  @TempDir private Path folder;
  private Table table;
  private AutoCloseable end;
  private final Controller controller = new Controller();

  @AfterEach
  void clearTable() throws Exception {
    table.close();
    end.close();
  }

  /** A controller at address 1; it refuses what it does not know, each with its code. */
  private static final class Controller implements UnaryOperator<String> {
    private final Map<String, Integer> registers =
        new ConcurrentHashMap<>(Map.of("0000", 215, "0001", 230));
    private volatile int busy;

    @Override
    public String apply(String frame) {
      return frame.startsWith("01") ? RtuPeer.checked("01" + pdu(frame.substring(2))) : "";
    }

    private String pdu(String request) {
      String function = request.substring(0, 2);
      if (!function.equals("03") && !function.equals("06")) {
        return refusal(function, 1);
      }
      if (busy > 0) {
        busy--;
        return refusal(function, 6);
      }
      String register = request.substring(2, 6);
      if (!registers.containsKey(register)) {
        return refusal(function, 2);
      }
      int value = (short) Integer.parseInt(request.substring(6), 16);
      if (function.equals("06") && Math.abs(value) > 2000) {
        return refusal(function, 3);
      }
      if (function.equals("03")) {
        return "0302%04X".formatted(registers.get(register) & 0xffff);
      }
      registers.put(register, value);
      return request;
    }

    private static String refusal(String function, int code) {
      return "8" + function.charAt(1) + "0" + code;
    }
  }

  private Instrument instrument(Way way, String more) throws Exception {
    table = new Table();
    LinkAddress address;
    if (way == Way.SOCKET) {
      RtuPeer.Listening there = RtuPeer.listening(controller);
      end = there.peer();
      address = there.address();
    } else {
      PtyPair pair = PtyPair.open(Files.createDirectory(folder.resolve("pair")));
      end = pair;
      RtuPeer.at(pair, controller);
      address = LinkAddress.parse("serial " + pair.near() + " 19200 8E1");
    }
    return table.instrument("modbus rtu temperature controller", address, "chamber", more);
  }

  private static Chamber chamber(Instrument x) {
    return x.in(RoleName.CHAMBER, Chamber.class).orElseThrow();
  }

  @ParameterizedTest
  @EnumSource(Way.class)
  void aControllerIsSetAndReadInTenthsOfADegree(Way way) throws Exception {
    Instrument x = instrument(way, "");
    chamber(x).setpoint(-12.3, Double.POSITIVE_INFINITY);
    assertEquals(-123, controller.registers.get("0001"));
    assertEquals(new Reply.Number(21.5, "01030200D7"), chamber(x).read());
    controller.busy = 2;
    controller.registers.put("0000", -404);
    assertEquals(new Reply.Number(-40.4, "010302FE6C"), chamber(x).read());
    x.makeSafe(Bench.SAFE_WITHIN);
    assertEquals(230, controller.registers.get("0001"));
  }

  @ParameterizedTest
  @EnumSource(Way.class)
  void aRefusalIsNamedAndIsNeverATemperature(Way way) throws Exception {
    Instrument x = instrument(way, "settings: {temperature register: '00FF'}");
    String read = assertThrows(InstrumentException.class, chamber(x)::read).getMessage();
    assertTrue(
        read.contains(
            "refused \"010300FF0001\" with exception 2 (illegal data address); expected that it"
                + " does so. Check the register addresses of the driver."),
        read);
    String set =
        assertThrows(
                InstrumentException.class, () -> chamber(x).setpoint(300, Double.POSITIVE_INFINITY))
            .getMessage();
    assertTrue(set.contains("with exception 3 (illegal data value)"), set);
    assertEquals(230, controller.registers.get("0001"));
  }
}
