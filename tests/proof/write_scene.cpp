// Declarations, parts and the build as text.
#include "scene.hpp"

namespace mm_proof {

namespace {

std::string unit(const Dim& dim) {
  return dim == Dim{1, 0} ? " mm" : dim == Dim{2, 0} ? " mm^2" : dim == Dim{0, 1} ? " deg" : "";
}

std::string type(const AttributeDef& def) {
  switch (def.sort) {
    case Sort::truth:
      return "yes_no";
    case Sort::word:
      return "wood";
    case Sort::size:
      return "thread_size";
    default:
      return def.count ? "count" : def.dim == Dim{1, 0} ? "length" : def.dim == Dim{0, 1} ? "angle" : "ratio";
  }
}

std::string type(const Dim& dim) {
  return dim == Dim{1, 0} ? "length" : dim == Dim{0, 1} ? "angle" : "ratio";
}

class Text {
 public:
  explicit Text(const Scene& scene) : scene_(scene) {}

  std::string run() {
    out_ = "choice wood = oak, ash, elm, fir\n";
    out_ +=
        "table coarse { major: mm  pitch: mm\n  6 1\n  8 1.25\n  10 1.5\n}\n"
        "designation thread_size {\n"
        "  form metric \"M{major: mm}x{pitch: mm}\", \"M{major: mm}\" { pitch = coarse[major = major].pitch "
        "}\n"
        "  form inch \"{major: in}-{tpi: count}[ UNF]\" { pitch = 1 in / tpi }\n}\n";
    for (const Table& table : scene_.tables) write(table);
    for (const Formula& formula : scene_.formulas) write(formula);
    for (const Interface& interface : scene_.interfaces) write(interface);
    for (const Kind& kind : scene_.kinds) write(kind);
    for (const Rule& rule : scene_.rules) write(rule);
    for (const Part& part : scene_.parts) write(part);
    build();
    return out_;
  }

 private:
  std::string show(const Node& node) const { return expression_text(scene_, node); }

  void attributes(int schema) {
    for (const AttributeDef& def : scene_.schemas[static_cast<std::size_t>(schema)].attributes) {
      out_ += "    " + def.name + ": " + type(def);
      if (def.lo) out_ += " in " + decimal(*def.lo) + unit(def.dim) + ".." + decimal(*def.hi) + unit(def.dim);
      if (def.measured) {
        out_ += " spread measured " + decimal(*def.measured) + unit(def.dim) + ", claimed " +
                decimal(*def.claimed) + unit(def.dim);
      }
      out_ += "\n";
    }
  }

  void write(const Table& table) {
    out_ += "table " + table.name + " {";
    for (const Column& column : table.columns) {
      const std::string cells = column.sort == Sort::word ? "wood" : column.dim == Dim{1, 0} ? "mm" : "ratio";
      out_ += "  " + column.name + ": " + cells + (column.range ? " range" : "");
    }
    out_ += "\n";
    for (const auto& row : table.rows) {
      for (std::size_t c = 0; c < row.size(); ++c) {
        out_ += "  ";
        if (table.columns[c].sort == Sort::word) {
          out_ += scene_.words[static_cast<std::size_t>(row[c].word)];
        } else {
          out_ += decimal(row[c].lo);
          if (table.columns[c].range) out_ += ".." + decimal(row[c].hi);
        }
      }
      out_ += "\n";
    }
    out_ += "}\n";
  }

  void write(const Formula& formula) {
    out_ += "formula " + formula.name + "(";
    for (std::size_t i = 0; i < formula.names.size(); ++i) {
      out_ += (i > 0 ? ", " : "") + scene_.var_names[static_cast<std::size_t>(formula.vars[i])] + ": " +
              type(formula.dims[i]);
    }
    out_ += "): " + type(formula.dim) + " = " + show(*formula.body) + "\n";
  }

  void write(const std::vector<Let>& lets) {
    for (const Let& let : lets) out_ += "  let " + let.name + " = " + show(*let.body) + "\n";
  }

  void write(const std::vector<Requirement>& needs) {
    for (const Requirement& need : needs) {
      out_ += "  need " + need.name + ": " + show(*need.test);
      if (need.when != nullptr) out_ += " when " + show(*need.when);
      out_ += "\n";
    }
  }

  void write(const Interface& interface) {
    out_ += "interface " + interface.name + " {\n";
    for (const Side& side : interface.sides) {
      out_ += std::string("  ") + (side.many ? "many " : "") + "side " + side.name + " {\n";
      attributes(side.schema);
      out_ += "  }\n";
    }
    write(interface.lets);
    write(interface.requirements);
    out_ += "}\n";
  }

  void write(const Kind& kind) {
    out_ += "kind " + kind.name + " {\n";
    attributes(kind.schema);
    for (const Face& face : kind.faces) {
      const Interface& interface = scene_.interfaces[static_cast<std::size_t>(face.interface)];
      out_ += "    face " + face.name + ": " + interface.name + "." +
              interface.sides[static_cast<std::size_t>(face.side)].name + (face.optional ? " optional" : "") +
              "\n";
    }
    write(kind.lets);
    out_ += "}\n";
  }

  void write(const Rule& rule) {
    out_ += "rule " + rule.name + " {\n  for ";
    for (std::size_t i = 0; i < rule.names.size(); ++i) {
      out_ += (i > 0 ? ", " : "") + scene_.var_names[static_cast<std::size_t>(rule.vars[i])] + ": " +
              scene_.kinds[static_cast<std::size_t>(rule.kinds[i])].name;
    }
    if (rule.where != nullptr) out_ += " where " + show(*rule.where);
    out_ += "\n";
    write(rule.lets);
    write(rule.requirements);
    out_ += "}\n";
  }

  void sheet(int schema, const std::vector<Value>& values, const std::string& prefix) {
    const Schema& of = scene_.schemas[static_cast<std::size_t>(schema)];
    for (std::size_t i = 0; i < values.size(); ++i) {
      for (const std::string& text : {values[i].text, values[i].second}) {
        if (!text.empty()) out_ += "  " + prefix + of.attributes[i].name + " " + text + "\n";
      }
    }
  }

  void write(const Part& part) {
    const Kind& kind = scene_.kinds[static_cast<std::size_t>(part.kind)];
    out_ += "part " + part.name + " is " + kind.name + " {\n";
    sheet(kind.schema, part.values[0], "");
    for (std::size_t f = 0; f < kind.faces.size(); ++f) {
      const Face& face = kind.faces[f];
      sheet(scene_.interfaces[static_cast<std::size_t>(face.interface)]
                .sides[static_cast<std::size_t>(face.side)]
                .schema,
            part.values[f + 1], face.name + ".");
    }
    out_ += "}\n";
  }

  std::string name(EntityRef e) const {
    const Instance& instance = scene_.instances[static_cast<std::size_t>(e.instance)];
    return instance.name + "." +
           scene_.kinds[static_cast<std::size_t>(instance.kind)].faces[static_cast<std::size_t>(e.face)].name;
  }

  void build() {
    out_ += "build made {\n  place here, there\n";
    for (const Instance& instance : scene_.instances) {
      const Fit& fit = scene_.fits[static_cast<std::size_t>(instance.fit)];
      out_ += "  fit " + fit.name + ": " + (fit.candidates.size() > 1 ? "one of " : "");
      for (std::size_t c = 0; c < fit.candidates.size(); ++c) {
        out_ += (c > 0 ? ", " : "") + scene_.parts[static_cast<std::size_t>(fit.candidates[c])].name;
      }
      out_ += (instance.place.empty() ? "" : " at " + instance.place) + "\n";
    }
    for (const Joint& joint : scene_.joints) {
      const Interface& interface = scene_.interfaces[static_cast<std::size_t>(joint.interface)];
      if (!interface.sides.back().many) {
        out_ += "  join " + name(joint.sides[0][0]) + " + " + name(joint.sides[1][0]) + "\n";
        continue;
      }
      out_ += "  join " + interface.name + " {";
      for (std::size_t s = 0; s < joint.sides.size(); ++s) {
        out_ += " " + interface.sides[s].name + " ";
        for (std::size_t i = 0; i < joint.sides[s].size(); ++i)
          out_ += (i > 0 ? ", " : "") + name(joint.sides[s][i]);
        out_ += s + 1 < joint.sides.size() ? "\n   " : " }\n";
      }
    }
    out_ += "}\n";
  }

  const Scene& scene_;
  std::string out_;
};

}  // namespace

std::string text_of(const Scene& scene) { return Text(scene).run(); }

}  // namespace mm_proof
