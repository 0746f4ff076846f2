// Says what each line of a catalogue is, as the program's own reader does (src/notation/build.rs), and
// takes the stretches of a line that no regular expression can: field names, remarks, running text.
//
// At the start of a line the whole of it is read once; the answer is a token without length, and the
// words that belong to it (a kind, a field's name) are taken by the next call, for which their length
// is kept. Every line has an answer, so the parser never has to recover from anything.

#include "tree_sitter/alloc.h"
#include "tree_sitter/parser.h"

#include <string.h>

#include "fields.h"
#include "letters.h"

// In the order of `externals` in grammar.js.
enum Token {
  CARD_START,
  KIND,
  FIELD_START,
  FIELD_NAME,
  OTHER_START,
  OTHER_NAME,
  ROW_START,
  DEEPER_START,
  DEEPEST_START,
  ROW_NAME,
  BROKEN_START,
  LINE_END,
  TEXT,
  BECAUSE,
  REMARK,
  CONFLICT_MARK,
  QUOTED,
  ODD,
  RECOVERING,
};

#define DEEPEST 8
#define NOTHING 255

typedef struct {
  uint32_t open[DEEPEST];  // the columns of the open field and of the rows below it, outermost first
  uint32_t length;         // how many characters the waiting token takes
  uint8_t open_count;
  uint8_t kind;      // 0 above the first card, else 1 + its place in KINDS
  uint8_t shape;     // of the open field
  uint8_t waiting;   // the token that the last answer announced, or NOTHING
  bool begun;        // the first line was looked at
  bool in_line;      // the line was answered, its value is being read
  bool running;      // the open field holds running text
  bool at_margin;    // the open field stands at the margin
  bool swallowing;   // indented lines belong to a broken line
  bool reason;       // the open field gave its reason, so all below it is text
  bool text_follows; // the rest of the line is text
} State;

typedef struct {
  State state;
  int32_t *line;
  uint32_t size, room;
} Scanner;

static bool is_blank(int32_t c) { return c == ' ' || c == '\t' || c == 0xa0; }

static bool is_space(int32_t c) {
  return (c >= 9 && c <= 13) || c == ' ' || c == 0x85 || c == 0xa0 || c == 0x1680 || (c >= 0x2000 && c <= 0x200a) ||
         c == 0x2028 || c == 0x2029 || c == 0x202f || c == 0x205f || c == 0x3000;
}

static bool is_quote(int32_t c) {
  return c == '"' || c == 0x201c || c == 0x201d || c == 0x201e || c == 0xab || c == 0xbb;
}

static bool is_digit(int32_t c) { return c >= '0' && c <= '9'; }

static bool among(const Stretch *stretches, uint32_t count, int32_t c) {
  uint32_t low = 0, high = count;
  while (low < high) {
    uint32_t middle = (low + high) / 2;
    if (c > stretches[middle].last) low = middle + 1;
    else if (c < stretches[middle].first) high = middle;
    else return true;
  }
  return false;
}

static bool is_letter(int32_t c) { return among(LETTERS, sizeof LETTERS / sizeof *LETTERS, c); }

static bool is_letter_or_figure(int32_t c) {
  return is_letter(c) || among(FIGURES, sizeof FIGURES / sizeof *FIGURES, c);
}

static int32_t small(int32_t c) { return c >= 'A' && c <= 'Z' ? c + ('a' - 'A') : c; }

static bool at_break(TSLexer *lexer) {
  return lexer->eof(lexer) || lexer->lookahead == '\n' || lexer->lookahead == '\r';
}

// Character `at` of the line in hand; 0 past its end.
static int32_t at(const Scanner *s, uint32_t at) { return at < s->size ? s->line[at] : 0; }

static bool keep(Scanner *s, int32_t c) {
  if (s->size == s->room) {
    uint32_t room = s->room ? s->room * 2 : 256;
    int32_t *line = ts_realloc(s->line, room * sizeof *line);
    if (!line) return false;
    s->line = line;
    s->room = room;
  }
  s->line[s->size++] = c;
  return true;
}

// Reads the rest of the line into the scanner's hand, without the blanks at its end.
static void read_line(Scanner *s, TSLexer *lexer) {
  s->size = 0;
  while (!at_break(lexer) && keep(s, lexer->lookahead)) lexer->advance(lexer, false);
  while (s->size && is_space(s->line[s->size - 1])) s->size--;
}

// The length of `words` at `from`, where they stand there as whole words; 0 when they do not.
static uint32_t words_at(const Scanner *s, uint32_t from, const char *words) {
  uint32_t here = from;
  for (; *words; words++) {
    if (*words == ' ') {
      uint32_t before = here;
      while (is_blank(at(s, here))) here++;
      if (here == before) return 0;
    } else if (here >= s->size || small(s->line[here]) != small(*words)) {
      return 0;
    } else {
      here++;
    }
  }
  int32_t next = at(s, here);
  if (is_letter_or_figure(next) || next == '-' || next == '\'') return 0;
  return here - from;
}

// The field whose name the line begins with, the longest name first.
static bool is_no_field(const Scanner *s, uint32_t length);

static const Field *field_at(const Scanner *s, const Field *fields, uint32_t *length) {
  const Field *found = NULL;
  *length = 0;
  for (; fields && fields->words; fields++) {
    uint32_t taken = words_at(s, 0, fields->words);
    if (taken && taken >= *length) {
      *length = taken;
      found = fields;
    }
  }
  return found && is_no_field(s, *length) ? NULL : found;
}

// Words that begin like a field and are none.
static const char *const NO_FIELDS[] = {
  "key changes", "key change", "tempo changes", "tempo change", "meter changes", "metre changes", "meter change",
  "time changes", "time change", "speed changes", "style period", "parts missing", "score order", "price range",
};

static bool is_no_field(const Scanner *s, uint32_t length) {
  for (uint32_t i = 0; i < sizeof NO_FIELDS / sizeof *NO_FIELDS; i++) {
    if (words_at(s, 0, NO_FIELDS[i]) > length) return true;
  }
  return false;
}

static const Field *card_field(const Scanner *s, uint32_t *length) {
  *length = 0;
  return s->state.kind ? field_at(s, KINDS[s->state.kind - 1].fields, length) : NULL;
}

// The kind whose word the line begins with: 1 + its place, or 0.
static uint8_t kind_word(const Scanner *s, uint32_t *length) {
  uint32_t size = 0;
  while (size < s->size && small(s->line[size]) >= 'a' && small(s->line[size]) <= 'z') size++;
  int32_t next = at(s, size);
  if (!size || is_letter_or_figure(next) || next == '\'' || next == 0x2019) return 0;
  *length = size;
  for (uint8_t kind = 0; kind < sizeof KINDS / sizeof *KINDS; kind++) {
    const char *word = KINDS[kind].word;
    uint32_t same = 0;
    while (same < size && word[same] && small(s->line[same]) == word[same]) same++;
    if (same == size && !word[same]) return kind + 1;
  }
  return 0;
}

static bool is_named(uint8_t kind) { return strcmp(KINDS[kind - 1].word, "handbook") != 0; }

static uint8_t starts_card(const Scanner *s, uint32_t *length) {
  uint8_t kind = kind_word(s, length);
  if (!kind) return 0;
  uint32_t here = *length;
  while (is_blank(at(s, here))) here++;
  if (is_named(kind)) return is_quote(at(s, here)) ? kind : 0;
  return *length == s->size || at(s, here) == '(' ? kind : 0;
}

// Whether the line from `from` on is nothing but remarks in parentheses.
static bool is_remark(const Scanner *s, uint32_t from) {
  if (at(s, from) != '(') return false;
  uint32_t depth = 0;
  for (uint32_t i = from; i < s->size; i++) {
    int32_t c = s->line[i];
    if (c == '(') depth++;
    else if (c == ')') depth = depth ? depth - 1 : 0;
    else if (!depth && !is_blank(c)) return false;
  }
  return true;
}

// Whether the line is one word and a quoted name, as the head of a card is.
static bool is_named_line(const Scanner *s) {
  uint32_t here = 0;
  while (here < s->size && is_letter(s->line[here])) here++;
  if (!is_blank(at(s, here))) return false;
  while (is_space(at(s, here))) here++;
  if (!is_quote(at(s, here))) return false;
  here++;
  while (here < s->size && !is_quote(s->line[here])) here++;
  if (here < s->size) here++;
  while (is_space(at(s, here))) here++;
  return here == s->size || is_remark(s, here);
}

// Whether the line is a kind and a quoted name and nothing else: a card's first line with blanks before it.
static bool starts_indented(const Scanner *s) {
  uint32_t length;
  uint8_t kind = kind_word(s, &length);
  if (!kind || !is_named(kind)) return false;
  uint32_t here = length;
  while (is_blank(at(s, here))) here++;
  if (!is_quote(at(s, here))) return false;
  uint32_t first = ++here;
  while (here < s->size && !is_quote(s->line[here])) here++;
  if (here == s->size || here == first) return false;
  here++;
  while (is_space(at(s, here))) here++;
  return here == s->size || is_remark(s, here);
}

static bool is_conflict_mark(const Scanner *s) {
  int32_t c = at(s, 0);
  if (c != '<' && c != '=' && c != '>' && c != '|') return false;
  for (uint32_t i = 1; i < 7; i++) {
    if (at(s, i) != c) return false;
  }
  return s->size == 7 || at(s, 7) == ' ';
}

// The length of the words that a field no card has seems to have: up to a wide gap, else the first word.
static uint32_t unknown_words(const Scanner *s) {
  uint32_t first = 0, gap = 0, words = 0;
  while (first < s->size && !is_blank(s->line[first])) first++;
  while (gap < s->size && s->line[gap] != '\t' && !(s->line[gap] == ' ' && at(s, gap + 1) == ' ')) gap++;
  if (gap == s->size) return first;
  for (uint32_t i = 0; i < gap; i++) {
    if (!is_space(s->line[i]) && (!i || is_space(s->line[i - 1]))) words++;
  }
  if (words > 2) return first;
  while (gap && is_space(s->line[gap - 1])) gap--;
  return gap ? gap : first;
}

// The words at which the facts of a row begin; for coloring, so the common ones are enough.
static const char *const RELATIONS[] = {
  "same as", "instead of", "cued in", "over the", "below the", "one player", "with", "solo", "optional", "then",
  "at", "by", "tacet", "throughout", "for", "doubles", "follows", "about",
};

static bool is_pitch(const Scanner *s, uint32_t from) {
  if (at(s, from) < 'A' || at(s, from) > 'G') return false;
  int32_t next = at(s, from + 1);
  if (next == 'b' || next == '#' || next == 0x266d || next == 0x266f) next = at(s, from + 2);
  return is_digit(next);
}

static bool facts_begin(const Scanner *s, uint32_t from) {
  if (is_blank(at(s, from)) || is_digit(at(s, from)) || at(s, from) == '(' || is_pitch(s, from)) return true;
  for (uint32_t i = 0; i < sizeof RELATIONS / sizeof *RELATIONS; i++) {
    if (words_at(s, from, RELATIONS[i])) return true;
  }
  return false;
}

static uint32_t row_name(const Scanner *s) {
  uint32_t here = 0;
  if (is_digit(at(s, 0)) || facts_begin(s, 0)) return 0;
  while (here < s->size) {
    int32_t c = s->line[here];
    if (c == ',' || c == '?' || is_quote(c)) break;
    if (c == '\t' || (is_blank(c) && facts_begin(s, here + 1))) break;
    here++;
  }
  while (here && is_blank(s->line[here - 1])) here--;
  return here;
}

static enum Token announce(Scanner *s, enum Token token, enum Token words, uint32_t length) {
  s->state.waiting = length ? words : NOTHING;
  s->state.length = length;
  return token;
}

static enum Token field(Scanner *s, const Field *found, uint32_t length, uint32_t indent, bool at_margin) {
  State *state = &s->state;
  state->open[0] = indent;
  state->open_count = 1;
  state->at_margin = at_margin;
  state->shape = found ? found->shape : PLAIN;
  state->running = state->shape == RUNNING;
  state->text_follows = state->running;
  state->reason = false;
  if (!found) return announce(s, OTHER_START, OTHER_NAME, unknown_words(s));
  return announce(s, FIELD_START, FIELD_NAME, length);
}

static enum Token row(Scanner *s, uint32_t indent) {
  State *state = &s->state;
  uint32_t depth = state->running ? 1 : state->open_count;
  if (!state->running && state->open_count < DEEPEST) state->open[state->open_count++] = indent;
  state->text_follows = state->running || state->reason;
  enum Token token = depth <= 1 ? ROW_START : depth == 2 ? DEEPER_START : DEEPEST_START;
  uint32_t length = 0;
  const Field *inside = NULL;
  if (state->shape == LIBRARY && depth == 1) inside = field_at(s, LIBRARY_FIELDS, &length);
  if (state->shape == MOVEMENTS && depth == 2) inside = card_field(s, &length);
  if (inside) {
    state->text_follows = inside->shape == RUNNING;
    return announce(s, token, FIELD_NAME, length);
  }
  bool named = state->shape == TABLE || (state->shape == MOVEMENTS && depth > 2);
  return announce(s, token, ROW_NAME, named && depth <= 3 ? row_name(s) : 0);
}

static enum Token margin(Scanner *s) {
  State *state = &s->state;
  uint32_t length;
  uint8_t kind = starts_card(s, &length);
  if (kind) {
    state->kind = kind;
    state->open_count = 0;
    state->running = state->swallowing = state->reason = false;
    return announce(s, CARD_START, KIND, length);
  }
  state->open_count = 0;
  state->running = state->at_margin = state->reason = false;
  state->swallowing = false;
  uint32_t taken;
  const Field *found = card_field(s, &taken);
  kind = kind_word(s, &length);
  if (!found && kind && is_named(kind) && length < s->size) state->swallowing = true;
  else state->swallowing = !found && is_named_line(s);
  if (found) return field(s, found, taken, 0, true);
  return announce(s, BROKEN_START, ODD, 0);
}

static enum Token indented(Scanner *s, uint32_t indent) {
  State *state = &s->state;
  if (state->swallowing) return announce(s, ROW_START, ODD, 0);
  if (!state->kind) return announce(s, BROKEN_START, ODD, 0);
  while (state->open_count && state->open[state->open_count - 1] >= indent) state->open_count--;
  uint32_t length;
  const Field *found = card_field(s, &length);
  // A field at the margin is a slip of the hand: the fields after it are its neighbors, not its rows.
  if (state->open_count == 1 && state->at_margin && found) state->open_count = 0;
  if (state->open_count) return row(s, indent);
  state->swallowing = !found && starts_indented(s);
  return field(s, found, length, indent, false);
}

static bool give(TSLexer *lexer, const bool *wanted, enum Token token) {
  lexer->result_symbol = token;
  return wanted[token];
}

// Takes the rest of the line, without the blanks at its end.
static void take_rest(TSLexer *lexer) {
  while (!at_break(lexer)) {
    bool inside = !is_space(lexer->lookahead);
    lexer->advance(lexer, false);
    if (inside) lexer->mark_end(lexer);
  }
}

static bool start_of_line(Scanner *s, TSLexer *lexer, const bool *wanted) {
  State *state = &s->state;
  uint32_t indent = 0;
  if (!state->begun) {
    while (!lexer->eof(lexer) && lexer->lookahead == 0xfeff) lexer->advance(lexer, true);
    state->begun = true;
  }
  // Blank lines are passed over, those of other white space too; a skip moves the token's start along.
  do {
    for (;; lexer->advance(lexer, true)) {
      if (lexer->eof(lexer)) return false;
      int32_t c = lexer->lookahead;
      if (c == '\n' || c == '\r') indent = 0;
      else if (c == '\t') indent = (indent / 4 + 1) * 4;
      else if (is_blank(c)) indent++;
      else break;
    }
    lexer->mark_end(lexer);
    read_line(s, lexer);
  } while (!s->size);
  if (!indent && is_conflict_mark(s)) {
    lexer->mark_end(lexer);
    return give(lexer, wanted, CONFLICT_MARK);
  }
  bool running = state->open_count && state->running && state->open[0] < indent;
  uint32_t card;
  if (is_remark(s, 0) && !(indent && running) && !(!indent && starts_card(s, &card))) {
    lexer->mark_end(lexer);
    return give(lexer, wanted, REMARK);
  }
  state->text_follows = false;
  enum Token token = indent ? indented(s, indent) : margin(s);
  state->in_line = true;
  return give(lexer, wanted, token);
}

static bool because(Scanner *s, TSLexer *lexer, const bool *wanted) {
  for (const char *letter = "because"; *letter; letter++) {
    if (lexer->lookahead != *letter || lexer->eof(lexer)) return false;
    lexer->advance(lexer, false);
  }
  if (!at_break(lexer) && !is_space(lexer->lookahead)) return false;
  lexer->mark_end(lexer);
  s->state.text_follows = true;
  if (s->state.shape == STET && s->state.open_count <= 1) s->state.reason = true;
  return give(lexer, wanted, BECAUSE);
}

static bool inside_line(Scanner *s, TSLexer *lexer, const bool *wanted) {
  State *state = &s->state;
  if (state->waiting != NOTHING) {
    enum Token token = state->waiting;
    for (uint32_t i = 0; i < state->length && !at_break(lexer); i++) lexer->advance(lexer, false);
    lexer->mark_end(lexer);
    state->waiting = NOTHING;
    return give(lexer, wanted, token);
  }
  while (!at_break(lexer) && is_space(lexer->lookahead)) lexer->advance(lexer, true);
  if (at_break(lexer)) {
    if (lexer->lookahead == '\r') {
      lexer->advance(lexer, false);
      if (lexer->lookahead == '\n') lexer->advance(lexer, false);
    } else if (!lexer->eof(lexer)) {
      lexer->advance(lexer, false);
    }
    lexer->mark_end(lexer);
    state->in_line = false;
    state->waiting = NOTHING;
    return give(lexer, wanted, LINE_END);
  }
  if (state->text_follows) {
    take_rest(lexer);
    return give(lexer, wanted, TEXT);
  }
  int32_t c = lexer->lookahead;
  if (c == '(') {
    uint32_t depth = 0;
    while (!at_break(lexer)) {
      c = lexer->lookahead;
      lexer->advance(lexer, false);
      if (!is_space(c)) lexer->mark_end(lexer);
      if (c == '(') depth++;
      if (c == ')' && --depth == 0) break;
    }
    return give(lexer, wanted, REMARK);
  }
  if (is_quote(c)) {
    lexer->advance(lexer, false);
    lexer->mark_end(lexer);
    while (!at_break(lexer)) {
      c = lexer->lookahead;
      lexer->advance(lexer, false);
      if (!is_space(c)) lexer->mark_end(lexer);
      if (is_quote(c)) break;
    }
    return give(lexer, wanted, QUOTED);
  }
  if (c == 0) {
    lexer->advance(lexer, false);
    lexer->mark_end(lexer);
    return give(lexer, wanted, ODD);
  }
  return c == 'b' && because(s, lexer, wanted);
}

bool tree_sitter_levare_external_scanner_scan(void *payload, TSLexer *lexer, const bool *wanted) {
  Scanner *s = payload;
  return s->state.in_line ? inside_line(s, lexer, wanted) : start_of_line(s, lexer, wanted);
}

static const State FRESH = {.waiting = NOTHING};

void *tree_sitter_levare_external_scanner_create(void) {
  Scanner *s = ts_calloc(1, sizeof *s);
  if (s) s->state = FRESH;
  return s;
}

void tree_sitter_levare_external_scanner_destroy(void *payload) {
  Scanner *s = payload;
  ts_free(s->line);
  ts_free(s);
}

unsigned tree_sitter_levare_external_scanner_serialize(void *payload, char *buffer) {
  Scanner *s = payload;
  // What is closed is cleared, so that the same state is always the same bytes.
  for (uint32_t i = s->state.open_count; i < DEEPEST; i++) s->state.open[i] = 0;
  if (s->state.waiting == NOTHING) s->state.length = 0;
  memcpy(buffer, &s->state, sizeof s->state);
  return sizeof s->state;
}

void tree_sitter_levare_external_scanner_deserialize(void *payload, const char *buffer, unsigned length) {
  Scanner *s = payload;
  if (length == sizeof s->state) memcpy(&s->state, buffer, length);
  else s->state = FRESH;
}
