// Judges an answer in a page without Python, word for word as page/answers.py does. Python puts the
// tables in front of this script as READING; tests/browser/test_judge.py holds the two together.

// An answer that cannot be read, with what is said to it; any other error is one of ours.
class Unreadable extends Error {}

// Say of a text why it cannot be read.
function refuse(text, words) {
  throw new Unreadable(`${quotedText(text)}${words}`);
}

// What is said to a text: its grade ("right", "slip", "wrong", "unread") and the words of the page.
// A question comes from `for_copy`.
function judgeAnswer(question, text) {
  if (question.verdicts) return question.verdicts[text];
  const { grade, words } = untiedVerdict(question, text);
  return { grade, words: replaceAllOf("BEFORE_UNIT", words, "\u00a0") };
}

function untiedVerdict(question, text) {
  const { kind, unit, answer, margin, within } = question;
  let value;
  try {
    value = readAnswer(text, kind, unit, question.lessOf);
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error;
    const words = `Could not read this. ${error.message}.`.replaceAll("..", ".");
    return { grade: "unread", words };
  }
  const readAs = `read as ${answerWords(value, kind, unit)}`;
  const excess = value - answer;
  // right comes first: a slip that happens to lead there does no harm
  if (Math.abs(excess) <= margin) return { grade: "right", words: `Right (${readAs}; ${within}).` };
  for (const [slip, slipMargin, hint] of question.slips) {
    if (Math.abs(value - slip) <= slipMargin) {
      return { grade: "slip", words: `Not yet (${readAs}). ${hint}` };
    }
  }
  const counts = `An answer ${within} counts as right.`;
  const way = excess > 0 ? "high" : "low";
  if (Math.abs(excess) <= READING.close * margin) {
    return { grade: "wrong", words: `Close, but a little too ${way} (${readAs}). ${counts}` };
  }
  return { grade: "wrong", words: `Too ${way} (${readAs}). ${counts}` };
}

// --- Patterns of Python, by their names in page/answer_patterns.py

function regExpOf({ source, flags }, moreFlags = "") {
  return new RegExp(source, flags + moreFlags);
}

function isFoundIn(name, text) {
  return regExpOf(READING.patterns[name]).test(text);
}

function replaceAllOf(name, text, replacement) {
  return text.replace(regExpOf(READING.patterns[name], "g"), replacement);
}

function matchAt(name, text, place = 0) {
  const pattern = regExpOf(READING.patterns[name], "y");
  pattern.lastIndex = place;
  return pattern.exec(text);
}

function matchWhole({ source, flags }, text) {
  return new RegExp(`^(?:${source})$`, flags).exec(text);
}

// --- Texts as Python shows them

// A text in quotes, with what cannot be seen as \xa0 or \u200b: answers are quoted so.
function quotedText(text) {
  const quote = text.includes("'") && !text.includes('"') ? '"' : "'";
  const inside = Array.from(text, (character) => quotedCharacter(character, quote));
  return `${quote}${inside.join("")}${quote}`;
}

function quotedCharacter(character, quote) {
  if (character === quote || character === "\\") return `\\${character}`;
  const name = { "\t": "\\t", "\n": "\\n", "\r": "\\r" }[character];
  if (name) return name;
  if (character === " " || !/[\p{C}\p{Z}]/u.test(character)) return character;
  const code = character.codePointAt(0);
  const [letter, digits] = code < 0x100 ? ["x", 2] : code < 0x10000 ? ["u", 4] : ["U", 8];
  return `\\${letter}${code.toString(16).padStart(digits, "0")}`;
}

// Small letters alone, as Python's casefold has them where letters of units are among them.
function inSmallLetters(word) {
  const small = word.toLowerCase().replaceAll("ß", "ss");
  return small.replace(/[ǰẖẗẘẙ]/gu, (letter) => letter.normalize("NFD"));
}

// A number with so many decimals. Python rounds what lies in the middle to an even digit, and
// toFixed away from zero: 2.5 is "2", not "3".
function withDecimals(number, decimals) {
  // toFixed would write an exponent; these are whole numbers all
  if (Math.abs(number) >= 1e21) {
    return BigInt(number) + (decimals ? ".".padEnd(decimals + 1, "0") : "");
  }
  const words = number.toFixed(decimals);
  // only the exact middle is odd here, for a power of two changes no digit of a float
  const isMiddle = Math.abs((number * 2 ** (decimals + 1)) % 2) === 1;
  const last = Number(words.at(-1));
  return isMiddle && last % 2 === 1 ? `${words.slice(0, -1)}${last - 1}` : words;
}

// A value [SI] as a page writes it, in a unit.
function answerWords(value, kind, unit) {
  const zero = kind === "temperature" ? READING.scales[unit] : 0;
  const number = (value - zero) / READING.ways[kind][unit];
  let decimals = 0;
  if (kind === "temperature") {
    decimals = 1;
  } else if (number) {
    decimals = READING.oneDecimalMore.filter((size) => Math.abs(number) < size).length;
  }
  const digits = withDecimals(number, decimals);
  const words = kind === "ratio" ? `×${digits}` : `${digits} ${unit}`;
  return words.replaceAll("-", "−").trim();
}

// --- Reading

// The value [SI] of what somebody wrote; `lessOf` is the pattern of "less sugar", where that may be
// said. Throws Unreadable.
function readAnswer(text, kind, unit, lessOf = null) {
  const example = READING.examples[kind];
  let answer = withoutOpening(cleanedAnswer(text));
  // code points, as Python counts
  if (!answer || [...answer].length > READING.mostCharacters) {
    throw new Unreadable(`Write one number with its unit, such as ${example}`);
  }
  // the minus of e-3 or m^-3 is taken out first: it parts no two numbers
  if (isFoundIn("RANGE", replaceAllOf("MINUS_OF_NO_RANGE", answer, ""))) {
    refuse(text, " is a range: write one number");
  }
  if (kind === "ratio") answer = replaceAllOf("TIMES_FIRST", answer, "");
  const number = matchAt("NUMBER", answer);
  if (!number) {
    refuse(text, ` does not begin with a number. Write it as in ${example}`);
  }
  const asked = { text, kind, unit, lessOf };
  const value = kind === "time" ? timeOf(answer, asked) : quantityOf(answer, number[0], asked);
  return possibleValue(value, kind, text);
}

// In plain characters: fractions as 1/2, powers as e3, one kind of minus.
function cleanedAnswer(text) {
  const characters = [];
  for (const character of replaceAllOf("RAISED_POWER", text, "10^$1")) {
    if (/\p{Cf}/u.test(character)) continue; // cannot be seen: it came along with a copy
    const plain = character.normalize("NFKC");
    characters.push(plain.includes("⁄") ? ` ${plain} ` : plain); // keeps 7½ apart: 7 1/2
  }
  let answer = characters.join("");
  answer = answer.replace(/⁄/g, "/").replace(/[′’]/g, "'").replace(/”/g, '"');
  answer = replaceAllOf("DASH", answer, "-");
  answer = replaceAllOf("TIMES_TEN", answer, "e$1");
  answer = replaceAllOf("BLANKS", answer, " ").trim();
  return replaceAllOf("SIGN_APART", answer, "$1");
}

// Without "about" and the like before the number; "is about 5" has two of them.
function withoutOpening(answer) {
  let before = "";
  while (answer !== before) {
    before = answer;
    answer = replaceAllOf("OPENING", answer, "");
  }
  return answer;
}

function possibleValue(value, kind, text) {
  if (value < 0) {
    const zero = kind === "temperature" ? "absolute zero" : "zero";
    refuse(text, ` is below ${zero}: check the sign`);
  }
  if (kind === "share" && value > 1) {
    refuse(text, " is more than the whole: a share is at most 100 %");
  }
  if (!Number.isFinite(value)) refuse(text, " is too large a number");
  return value;
}

// The value of an answer [SI] that begins with a number and is no time.
function quantityOf(answer, number, asked) {
  let unitText = answer.slice(number.length).trim();
  // degrees alone are those that the question asks for
  if (asked.kind === "temperature" && ["°", "deg", "degrees"].includes(unitText)) {
    unitText = asked.unit;
  }
  const spelling = spellingOf(unitText || asked.unit, asked);
  const zero = asked.kind === "temperature" ? READING.scales[spelling] : 0;
  return numberOf(number, asked.text) * READING.ways[asked.kind][spelling] + zero;
}

// --- Numbers

function numberOf(number, text) {
  const fraction = matchWhole(READING.patterns.FRACTION, number);
  if (!fraction) return decimalOf(number, text);
  const [, whole, top, bottom] = fraction;
  if (Number(bottom) === 0 || /e/i.test(number)) {
    refuse(text, " has a fraction that is no number: write a plain decimal number");
  }
  const size = Number(whole || 0) + quotientOf(BigInt(top), BigInt(bottom));
  // the sign is for whole and fraction together: -7 1/2
  return number.startsWith("-") ? -size : size;
}

// The float nearest to a quotient of whole numbers, however many digits these have.
function quotientOf(top, bottom) {
  const limit = BigInt(Number.MAX_SAFE_INTEGER);
  if (top <= limit && bottom <= limit) return Number(top) / Number(bottom);
  // so many binary digits more that what is cut off cannot turn the rounding
  const more = 64 + 2 * bottom.toString(2).length;
  return Number((top << BigInt(more)) / bottom) / 2 ** more;
}

// With a point or a comma, if it has only one reading.
function decimalOf(number, text) {
  const [start, power = ""] = number.toLowerCase().split("e");
  const mantissa = start.replace(/[.,]+$/, ""); // the end of the sentence, not of the number
  const sign = mantissa.startsWith("-") ? "-" : "";
  const digits = mantissa.replace(/^[+-]+/, "");
  if (digits.replace(/[^.,]/g, "").length > 1) {
    const rule = "write one for the decimals, and nothing between thousands";
    refuse(text, ` has two points or commas in one number: ${rule}`);
  }
  const thousands = matchWhole(READING.patterns.TWO_READINGS, digits);
  if (thousands) {
    const [, first, last] = thousands;
    refuse(text, ` can be read in two ways: write ${first}.${last} or ${first}${last}`);
  }
  const plain = digits.replaceAll(" ", "").replaceAll(",", ".");
  const value = Number(`${sign}${plain}e${power || 0}`);
  if (!Number.isFinite(value)) refuse(text, " is too large a number");
  return value;
}

// --- Units

// What stands as a unit, in the spelling of the tables.
function spellingOf(unitText, asked) {
  const ways = READING.ways[asked.kind];
  let word = replaceAllOf("JOINT", unitText, "");
  // "2 times less sugar": of what may be said, and changes nothing
  if (asked.lessOf) word = word.replace(regExpOf(asked.lessOf, "g"), "$1");
  // a sentence may end here; only now, because "sec." and "wt.%" have points of their own
  if (!Object.hasOwn(ways, word)) word = word.replace(/[.,;!]+$/, "");
  if (!Object.hasOwn(ways, word)) word = spellingOfAnyCase(inSmallLetters(word), unitText, asked);
  if (READING.less.includes(asked.unit) && READING.more.includes(word)) {
    refuse(asked.text, ` says ${quotedText(unitText)}, but the question asks how many times less`);
  }
  return word;
}

// The spelling that differs in capitals alone; or it says what is wrong with this unit.
function spellingOfAnyCase(word, unitText, { text, kind }) {
  const spellings = READING.anyCase[kind];
  if (Object.hasOwn(spellings, word)) return spellings[word];
  const example = `Write it as in ${READING.examples[kind]}`;
  const unitWords = quotedText(unitText);
  for (const [otherKind, pattern, difference] of READING.otherThings) {
    if (otherKind === kind && matchWhole(pattern, word)) {
      refuse(text, `: ${unitWords} ${difference}. ${example}`);
    }
  }
  if (isFoundIn("DIGIT", word)) {
    refuse(text, ` holds more than one number. ${example}`);
  }
  refuse(text, ` holds ${unitWords}, which is no unit of ${kind} known here. ${example}`);
}

// --- Times [s]

// On a clock, or of one or several parts such as 7 min 30 s.
function timeOf(answer, asked) {
  const clock = matchWhole(READING.patterns.CLOCK, answer);
  if (clock) return clockOf(clock, asked);
  const example = READING.examples.time;
  let total = 0;
  let lastSize = Infinity; // nothing is too long to come first
  let place = 0;
  while (place < answer.length) {
    const part = matchAt("PART_OF_TIME", answer, place);
    if (!part) refuse(asked.text, ` is not a time: write it as in ${example}`);
    const size = sizeOfPart(part[2], lastSize, asked);
    const seconds = numberOf(part[1], asked.text) * size;
    // 30 s 7 min goes the wrong way, and 7 min 90 s is more than the next minute
    const isTooLong = lastSize < Infinity && seconds >= lastSize;
    if (size >= lastSize || isTooLong) {
      const misfit = `${quotedText(part[0].trim())} does not fit after what stands before it`;
      refuse(asked.text, `: ${misfit}. Write it as in ${example}`);
    }
    total += seconds;
    lastSize = size;
    place += part[0].length;
  }
  return total;
}

// One of the unit of a part of a time: a bare number after minutes is seconds.
function sizeOfPart(partUnit, lastSize, asked) {
  const unitText = replaceAllOf("AFTER_PART", partUnit, "");
  const sizes = READING.ways.time;
  if (unitText) return sizes[spellingOf(unitText, asked)];
  if (lastSize === sizes.h) return sizes.min; // 1 h 30
  if (lastSize === sizes.min) return sizes.s;
  return sizes[asked.unit];
}

// 7:30 is minutes and seconds, or hours if asked.
function clockOf([, first, second, third, unitText], asked) {
  const parts = [first, second, third].filter((part) => part !== undefined).map(Number);
  const { h, min } = READING.ways.time;
  // a unit behind the clock is that of its first part, whatever was asked for
  const firstUnit = unitText || (asked.unit === "h" ? "h" : "min");
  let size = READING.ways.time[spellingOf(firstUnit, asked)];
  if (Math.max(...parts.slice(1)) > 59 || size < min) {
    refuse(asked.text, ` is no time on a clock: write it as in ${READING.examples.time}`);
  }
  if (parts.length === 3) size = h; // 0:07:30 can only begin with hours
  return parts.reduce((sum, part, place) => sum + (part * size) / 60 ** place, 0);
}
