// Lays statements out as lines. Comments are put back by place: those before a statement or inside it stand
// above it, one behind it on its line stays there, and those after the last statement of a block stand before
// its brace.
#include "syntax/print.hpp"

#include <algorithm>

#include "syntax/print_nodes.hpp"
#include "syntax/unit_rule.hpp"

namespace mm {

namespace {

std::string joined(std::string text) {
  std::replace(text.begin(), text.end(), soft_break, ' ');
  std::replace(text.begin(), text.end(), weak_break, ' ');
  return text;
}

/// The whole node on one line.
std::string flat(const PrintNode& node) {
  if (!node.is_block) return joined(node.head);
  std::string items;
  for (const PrintNode& item : node.items) {
    const std::string next = flat(item);
    if (!items.empty()) items += needs_semicolon(items, next, true) ? "; " : "  ";
    items += next;
  }
  return joined(node.head) + (items.empty() ? " { }" : " { " + items + " }") + joined(node.tail);
}

class Layout {
 public:
  Layout(const FileTree& file, const Sources& sources)
      : bytes_(sources[file.file].bytes), comments_(file.comments) {}

  std::string run(const std::vector<PrintNode>& nodes) {
    statements(nodes, 0);
    comments_before(static_cast<std::uint32_t>(bytes_.size()) + 1, 0);
    align_comments();
    return std::move(out_);
  }

 private:
  std::string_view between(std::uint32_t begin, std::uint32_t end) const {
    return bytes_.substr(begin, end - begin);
  }

  bool has_comment(Span span) const {
    const auto at =
        std::lower_bound(comments_.begin(), comments_.end(), span.begin,
                         [](const Span& comment, std::uint32_t begin) { return comment.begin < begin; });
    return at != comments_.end() && at->begin < span.end;
  }

  void blank_line_before(std::uint32_t at) {
    if (std::exchange(fresh_, false)) return;
    std::size_t lines = 0;
    while (at > 0 && std::string_view(" \t\r\n;").find(bytes_[at - 1]) != std::string_view::npos)
      if (bytes_[--at] == '\n') ++lines;
    if (lines < 2) return;
    align_comments();
    out_ += '\n';
  }

  /// Where the statement begins whose text stands at `at`: its first word may be of no node, as in remedy
  /// "..".
  std::uint32_t with_first_word(std::uint32_t at, std::string_view text) const {
    const std::string_view word = text.substr(0, text.find(' '));
    const std::size_t before = bytes_.substr(0, at).find_last_not_of(" \t\r\n");
    if (before == std::string_view::npos || before + 1 < word.size()) return at;
    const std::size_t begin = before + 1 - word.size();
    return bytes_.substr(begin, word.size()) == word ? static_cast<std::uint32_t>(begin) : at;
  }

  void comments_before(std::uint32_t end, std::size_t indent) {
    for (; next_ < comments_.size() && comments_[next_].begin < end; ++next_) {
      blank_line_before(comments_[next_].begin);
      align_comments();
      out_.append(indent, ' ').append(between(comments_[next_].begin, comments_[next_].end)) += '\n';
    }
  }

  /// A comment that stands behind `end` on its line goes behind what was just written.
  void comment_behind(std::uint32_t end) {
    if (next_ == comments_.size() || comments_[next_].begin < end) return;
    const std::string_view gap = between(end, comments_[next_].begin);
    if (gap.find_first_not_of(" \t;{") != std::string_view::npos) return;
    behind_.push_back({out_.size(), out_.size() - (out_.rfind('\n') + 1)});
    out_.append("  ").append(between(comments_[next_].begin, comments_[next_].end));
    ++next_;
  }

  /// Moves them to one column, the last one first, each line once.
  void indent_comments(std::size_t column) {
    std::size_t shift = 0, end = out_.size();
    for (const Behind& comment : behind_) shift += column - comment.column;
    out_.resize(end + shift);
    const auto text = out_.begin();
    const auto place = [&](std::size_t at) { return text + static_cast<std::ptrdiff_t>(at); };
    for (auto comment = behind_.rbegin(); comment != behind_.rend(); ++comment) {
      std::move_backward(place(comment->at), place(end), place(end + shift));
      shift -= column - comment->column;
      std::fill(place(comment->at + shift), place(comment->at + shift + column - comment->column), ' ');
      end = comment->at;
    }
  }

  /// Comments behind lines that follow each other stand one under the other, unless the lines differ much.
  void align_comments() {
    std::size_t least = tidy_width, most = 0;
    for (const Behind& comment : behind_) {
      least = std::min(least, comment.column);
      most = std::max(most, comment.column);
    }
    if (most - least <= 40 && most <= 70) indent_comments(most);
    behind_.clear();
  }

  void wrapped(const std::string& text, std::size_t indent, std::size_t behind) {
    out_.append(indent, ' ');
    if (indent + text.size() + behind <= tidy_width) {
      out_ += joined(text);
      return;
    }
    std::size_t column = indent;
    bool first = true;
    const auto put = [&](std::string_view piece, std::size_t after) {
      if (!first && column + 1 + piece.size() + after > tidy_width) {
        out_.append("\n").append(indent + 4, ' ');
        column = indent + 4;
        piece.remove_prefix(std::min(piece.find_first_not_of(' '), piece.size()));
      } else if (!first) {
        out_ += ' ';
        ++column;
      }
      out_ += piece;
      column += piece.size();
      first = false;
    };
    for (std::size_t begin = 0; begin <= text.size();) {
      const std::size_t end = std::min(text.find(soft_break, begin), text.size());
      const std::string_view piece = std::string_view(text).substr(begin, end - begin);
      const std::size_t after = end == text.size() ? behind : 0;
      if (indent + 4 + piece.size() + after <= tidy_width) {
        put(joined(std::string(piece)), after);
      } else {
        for (std::size_t at = 0; at <= piece.size();) {
          const std::size_t stop = std::min(piece.find(weak_break, at), piece.size());
          put(piece.substr(at, stop - at), stop == piece.size() ? after : 0);
          at = stop + 1;
        }
      }
      begin = end + 1;
    }
  }

  bool on_one_line(const PrintNode& node, const std::string& line, std::size_t indent) const {
    const Span span = node.span;
    return between(span.begin, span.end).find('\n') == std::string_view::npos && !has_comment(span) &&
           indent + line.size() <= tidy_width;
  }

  void close_line(std::uint32_t end) {
    const std::size_t comments = behind_.size();
    comment_behind(end);
    out_ += '\n';
    if (behind_.size() == comments) align_comments();
  }

  void statements(const std::vector<PrintNode>& nodes, std::size_t indent) {
    for (std::size_t i = 0; i < nodes.size(); ++i) {
      const PrintNode& node = nodes[i];
      const std::string line = node.is_block ? flat(node) : std::string();
      if (!node.is_block || node.items.empty() || on_one_line(node, line, indent)) {
        const std::string& text = node.is_block ? line : node.head;
        comments_before(node.span.end, indent);
        blank_line_before(with_first_word(node.span.begin, text));
        wrapped(text, indent, 0);
        if (i + 1 < nodes.size() && needs_semicolon(text, nodes[i + 1].head, false)) out_ += ';';
        close_line(node.span.end);
        continue;
      }
      comments_before(node.head_end, indent);
      blank_line_before(node.span.begin);
      wrapped(node.head, indent, 2);
      out_ += " {";
      close_line(node.head_end);
      align_comments();
      fresh_ = true;
      statements(node.items, indent + 2);
      comments_before(node.span.end, indent + 2);
      fresh_ = false;
      align_comments();
      out_.append(indent, ' ').append("}").append(joined(node.tail));
      close_line(node.span.end);
    }
  }

  struct Behind {
    std::size_t at = 0;  // in out_, where a comment behind a line begins
    std::size_t column = 0;
  };

  std::string_view bytes_;
  const std::vector<Span>& comments_;
  std::size_t next_ = 0;
  bool fresh_ = true;           // at the beginning of a block or file: no blank line
  std::vector<Behind> behind_;  // of the run of lines being written
  std::string out_;
};

}  // namespace

std::string lay_out(const std::vector<PrintNode>& nodes, const FileTree& file, const Sources& sources) {
  return Layout(file, sources).run(nodes);
}

std::string print(const FileTree& file, const Tree& tree, const Sources& sources, const Names& names) {
  const Wording wording(tree, sources, names);
  std::vector<PrintNode> nodes;
  for (const Declaration& declaration : file.declarations) nodes.push_back(wording.declaration(declaration));
  return lay_out(nodes, file, sources);
}

}  // namespace mm
