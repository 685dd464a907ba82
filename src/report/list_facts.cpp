#include "report/list_facts.hpp"

#include "messages/message.hpp"
#include "report/list_words.hpp"

namespace mm {

namespace {

template <class Item>
void tell_head(Page& page, const Offer& offer, const std::string& sort, const Item& item,
               const std::string& doc) {
  page.blank();
  page.text(sort + " " + head_words(offer, item.name, doc, item.span), 0, 4, Tone::bold,
            sort.size() + 1 + name_text(offer, item.name).size());
}

void tell_line(Page& page, const std::string& name, const std::string& rest, std::size_t indent) {
  page.text(name + ": " + rest, indent, indent + 4, Tone::bold, name.size());
}

std::string words_of(const Offer& offer, const ChoiceDef& choice) {
  std::vector<std::string> words;
  for (const Symbol word : choice.words) words.push_back(name_text(offer, word));
  return listed(words, " or ");
}

void tell(Page& page, const Offer& offer, const DesignationDef& size) {
  tell_head(page, offer, "designation", size, size.doc);
  for (const FormDef& form : size.forms) {
    page.text("form " + name_text(offer, form.name) + ", written " + listed(patterns_of(offer, form), " or "),
              2, 6);
    for (const FormField& field : fields_of(offer, size, form)) {
      std::string line = field.type;
      if (field.worked_out)
        line += (field.written ? "; where it is not written, " : "; worked out as ") +
                text_of(offer, field.worked_out);
      tell_line(page, name_text(offer, field.name), line, 4);
    }
  }
}

void tell(Page& page, const Offer& offer, const ChoiceDef& choice) {
  tell_head(page, offer, "choice", choice, "");
  page.text("one of " + words_of(offer, choice), 2, 6);
}

void tell(Page& page, const Offer& offer, const TableDef& table) {
  tell_head(page, offer, "table", table, table.doc);
  for (std::size_t i = 0; i < table.columns.size(); ++i)
    tell_line(page, name_text(offer, table.columns[i].name),
              type_words(offer, table.columns[i]) + (table.key_range[i] ? ", a range" : ""), 2);
  page.text(counted(table.rows.size(), "row"), 2, 6);
  for (const std::string& source : table.sources) page.text("source: " + printable(source), 2, 6);
  if (table.sources.empty()) page.text("source: none given", 2, 6);
}

void tell(Page& page, const Offer& offer, const FormulaDef& formula) {
  tell_head(page, offer, "formula", formula, "");
  for (const NamedType& parameter : formula.parameters)
    tell_line(page, name_text(offer, parameter.name), type_words(offer, parameter), 2);
  page.text("gives " + type_words(offer, formula.result) + ": " + text_of(offer, formula.body), 2, 6);
  page.text("source: " + (formula.source.empty() ? std::string("none given") : printable(formula.source)), 2,
            6);
}

template <class Store>
void tell_wanted(Page& page, const Offer& offer, const Store& store, const std::vector<std::string>& wanted) {
  for (const auto* item : by_name(offer, store, wanted)) tell(page, offer, *item);
}

/// A line each; `doc` gives what stands behind a name.
template <class Store, class Doc>
bool name_all(Page& page, const Offer& offer, const Store& store, std::string_view heading, Doc doc) {
  const auto items = by_name(offer, store, {});
  if (!items.empty()) page.heading(heading);
  for (const auto* item : items) {
    const std::string name = name_text(offer, item->name), words = doc(*item);
    page.text(name + words + " (" + declared_at(offer, item->span) + ")", 1, 4, Tone::bold, name.size());
  }
  return !items.empty();
}

template <class Store>
void add_names(const Offer& offer, const Store& store, std::vector<std::string>& out) {
  for (const auto& item : store) out.emplace_back(offer.names.text(item.name));
}

}  // namespace

std::vector<std::string> fact_names(const Offer& offer) {
  std::vector<std::string> out;
  add_names(offer, offer.model.designations, out);
  add_names(offer, offer.model.choices, out);
  add_names(offer, offer.model.tables, out);
  add_names(offer, offer.model.formulas, out);
  return out;
}

bool name_facts(Page& page, const Offer& offer) {
  const auto documented = [](const auto& item) {
    return item.doc.empty() ? std::string() : ": " + printable(item.doc);
  };
  const auto words = [&](const ChoiceDef& choice) { return ": " + words_of(offer, choice); };
  const auto call = [&](const FormulaDef& formula) {
    std::vector<std::string> names;
    for (const NamedType& parameter : formula.parameters) names.push_back(name_text(offer, parameter.name));
    return "(" + listed(names, ", ") + "): " + type_words(offer, formula.result);
  };
  bool any = name_all(page, offer, offer.model.designations, "SIZES AS THE TRADE WRITES THEM", documented);
  any = name_all(page, offer, offer.model.choices, "CHOICES", words) || any;
  any = name_all(page, offer, offer.model.tables, "TABLES", documented) || any;
  return name_all(page, offer, offer.model.formulas, "FORMULAS", call) || any;
}

void tell_facts(Page& page, const Offer& offer, const std::vector<std::string>& wanted) {
  tell_wanted(page, offer, offer.model.designations, wanted);
  tell_wanted(page, offer, offer.model.choices, wanted);
  tell_wanted(page, offer, offer.model.tables, wanted);
  tell_wanted(page, offer, offer.model.formulas, wanted);
}

std::vector<FormField> fields_of(const Offer& offer, const DesignationDef& size, const FormDef& form) {
  std::vector<FormField> out;
  const auto worked_out = [&](Symbol name) {
    for (const FormDef::Computed& computed : form.computed)
      if (size.fields[computed.field].name == name) return computed.expr;
    return ExprId{};
  };
  for (const NamedType& field : form.written) {
    const std::string type = type_words(offer, field);
    const auto same = [&](const FormField& had) { return had.name == field.name && had.type == type; };
    if (std::none_of(out.begin(), out.end(), same))
      out.push_back({field.name, type, true, worked_out(field.name)});
  }
  for (const FormDef::Computed& computed : form.computed) {
    const FieldDef& field = size.fields[computed.field];
    const auto same = [&](const FormField& had) { return had.name == field.name; };
    if (std::none_of(out.begin(), out.end(), same))
      out.push_back({field.name, type_words(offer, NamedType{field.name, field.type}), false, computed.expr});
  }
  return out;
}

std::vector<std::string> patterns_of(const Offer& offer, const FormDef& form) {
  std::vector<std::string> out;
  for (const Span pattern : form.patterns) out.push_back(printable(offer.sources.text(pattern)));
  return out;
}

}  // namespace mm
