import java.io.BufferedReader;
import java.io.InputStreamReader;
import java.io.StringReader;
import java.util.Map;
import java.util.Properties;

/**
 * Reads many texts by java.util.Properties. Each line of the input is one text, four hexadecimal digits for each UTF-16 unit
 * (so that lone surrogates survive). Each line of the output: `refused`, or `read` and its keys and values in the same spelling,
 * each led by a blank and a colon.
 */
public final class ReadProperties {
  public static void main(String[] arguments) throws Exception {
    BufferedReader input = new BufferedReader(new InputStreamReader(System.in, "US-ASCII"));
    StringBuilder output = new StringBuilder();
    for (String line = input.readLine(); line != null; line = input.readLine()) {
      Properties properties = new Properties();
      try {
        properties.load(new StringReader(fromHex(line)));
        output.append("read");
        for (Map.Entry<Object, Object> entry : properties.entrySet()) {
          output.append(" :").append(toHex((String) entry.getKey()));
          output.append(" :").append(toHex((String) entry.getValue()));
        }
      } catch (IllegalArgumentException malformed) {
        output.append("refused");
      }
      output.append('\n');
    }
    System.out.print(output);
  }

  private static String fromHex(String hex) {
    char[] units = new char[hex.length() / 4];
    for (int k = 0; k < units.length; k++) units[k] = (char) Integer.parseInt(hex.substring(4 * k, 4 * k + 4), 16);
    return new String(units);
  }

  private static String toHex(String text) {
    StringBuilder hex = new StringBuilder();
    for (int k = 0; k < text.length(); k++) hex.append(String.format("%04x", (int) text.charAt(k)));
    return hex.toString();
  }
}
