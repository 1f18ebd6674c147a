package logfile

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"net/url"
	"regexp"
	"slices"
	"strings"
)

// The rules and names are those of W3C "Metadata Vocabulary for Tabular Data" (17
// December 2015); the lists of names and of prefixes are from memory.
var (
	columnName = regexp.MustCompile(`^(?:[A-Za-z0-9]|%[0-9A-Fa-f]{2})(?:\.?(?:[A-Za-z0-9_]|%[0-9A-Fa-f]{2}))*$`)
	instant    = regexp.MustCompile(`^yyyy-MM-dd[T ]HH:mm(?::ss(?:\.S+)?)?(?: ?(?:X{1,3}|x{1,3}))?$`)

	inherited  = []string{"aboutUrl", "datatype", "default", "lang", "null", "ordered", "propertyUrl", "required", "separator", "textDirection", "valueUrl"}
	ofTable    = append([]string{"@id", "@type", "notes", "suppressOutput", "tableDirection", "transformations"}, inherited...)
	ofSchema   = append([]string{"@id", "@type", "foreignKeys", "rowTitles"}, inherited...)
	ofColumn   = append([]string{"@id", "@type", "suppressOutput", "titles", "virtual"}, inherited...)
	ofDatatype = []string{"@id", "@type", "format", "length", "minLength", "maxLength", "minInclusive", "maxInclusive", "minExclusive", "maxExclusive"}
	ofDialect  = []string{"@id", "@type", "commentPrefix", "delimiter", "doubleQuote", "encoding", "header", "headerRowCount", "lineTerminators",
		"quoteChar", "skipBlankRows", "skipColumns", "skipInitialSpace", "skipRows", "trim"}

	datatypes = strings.Fields(`anyAtomicType anyURI base64Binary boolean date dateTime dateTimeStamp decimal integer long int short byte
		nonNegativeInteger positiveInteger unsignedLong unsignedInt unsignedShort unsignedByte nonPositiveInteger negativeInteger double duration
		dayTimeDuration yearMonthDuration float gDay gMonth gMonthDay gYear gYearMonth hexBinary QName string normalizedString token language Name
		NMTOKEN xml html json time number binary datetime any`)
	commonPrefixes = strings.Fields(`as cc csvw ctag dc dc11 dcat dcterms dqv duv foaf gr grddl ical ldp ma oa og org owl prov qb rdf rdfa rdfs
		rev rif rr schema sd sioc skos skosxl sosa ssn time v vcard void wdr wrds xhv xml xsd`)
)

// Check holds the document against the rules of CSV on the Web for one table, and
// its units against UCUM. All that is wrong comes back together, each a
// *MetadataError that unwraps to ErrMetadata.
func (m *Metadata) Check() error {
	c := &metadataCheck{}
	if _, err := url.Parse(m.URL); err != nil || m.URL == "" {
		c.refuse("url", m.URL, "wanted the CSV file's URL; a group of tables is not read, one document describes one file")
	}
	c.properties("", m.Other, ofTable)
	c.properties("tableSchema.", m.SchemaMore, ofSchema)
	for key := range m.Dialect {
		if !slices.Contains(ofDialect, key) {
			c.refuse("dialect."+key, key, "wanted a property of a dialect")
		}
	}
	seen := map[string]bool{}
	for i, col := range m.Columns {
		way := fmt.Sprintf("tableSchema.columns[%d].", i)
		if !columnName.MatchString(col.Name) && !(col.Name == "" && len(col.titles()) > 0) {
			c.refuse(way+"name", col.Name, "wanted letters, digits, _, single dots inside and %XX, not beginning with _, or titles without a name")
		}
		if col.Name != "" && seen[col.Name] {
			c.refuse(way+"name", col.Name, "wanted each name once")
		}
		seen[col.Name] = true
		if col.Unit != "" && !validUnit(col.Unit) {
			c.refuse(way+"schema:unitText", col.Unit, "wanted a UCUM code such as lx, Cel, hPa, % or deg")
		}
		c.datatype(way+"datatype", col.Datatype)
		c.properties(way, col.Other, ofColumn)
	}
	for _, key := range m.PrimaryKey {
		if key == "" || !seen[key] {
			c.refuse("tableSchema.primaryKey", key, "wanted the name of a column")
		}
	}
	return errors.Join(c.all...)
}

// CheckHeader holds a file's header against the columns' titles, by position; a
// column without titles goes by its name. All that does not go together comes back as
// *MetadataError, joined.
func (m *Metadata) CheckHeader(header []string) error {
	if len(header) != len(m.Columns) {
		return &MetadataError{Property: "tableSchema.columns", Found: fmt.Sprint(len(m.Columns)), Reason: fmt.Sprintf("the header has %d", len(header))}
	}
	c := &metadataCheck{}
	for i, col := range m.Columns {
		titles := col.titles()
		if len(titles) == 0 {
			titles = []string{col.Name}
		}
		if !slices.Contains(titles, header[i]) {
			c.refuse(fmt.Sprintf("tableSchema.columns[%d].titles", i), strings.Join(titles, ", "), fmt.Sprintf("the header has %q", header[i]))
		}
	}
	return errors.Join(c.all...)
}

// titles are the column's in all languages.
func (c *MetadataColumn) titles() []string {
	out := c.Titles
	var byLanguage map[string]json.RawMessage
	if json.Unmarshal(c.Other["titles"], &byLanguage) != nil {
		return out
	}
	for _, b := range byLanguage {
		var one string
		var many []string
		if json.Unmarshal(b, &one) == nil {
			out = append(out, one)
		} else if json.Unmarshal(b, &many) == nil {
			out = append(out, many...)
		}
	}
	return out
}

// metadataCheck gathers what is wrong.
type metadataCheck struct{ all []error }

func (c *metadataCheck) refuse(property, found, reason string) {
	c.all = append(c.all, &MetadataError{Property: property, Found: found, Reason: reason})
}

// properties lets pass what the standard names for the place, and common
// properties: a known prefix and a name, or a whole URL.
func (c *metadataCheck) properties(way string, p Properties, known []string) {
	for _, key := range slices.Sorted(maps.Keys(p)) {
		prefix, name, prefixed := strings.Cut(key, ":")
		switch {
		case slices.Contains(known, key):
		case prefixed && name != "" && slices.Contains(commonPrefixes, prefix):
		case prefixed && strings.HasPrefix(name, "//") && len(name) > 2:
		default:
			c.refuse(way+key, key, "wanted a property of the standard, a prefixed name such as dc:creator, or a URL")
		}
	}
}

func (c *metadataCheck) datatype(way string, t Datatype) {
	base := t.Base
	if base != "" && !slices.Contains(datatypes, base) {
		c.refuse(way, base, "wanted a built-in datatype: dateTime, double, decimal, integer, boolean, string, ...")
	}
	if (base == "dateTime" || base == "datetime" || base == "dateTimeStamp") && t.Format != "" && !instant.MatchString(t.Format) {
		c.refuse(way+".format", t.Format, "wanted yyyy-MM-ddTHH:mm:ss.S, with as many S as digits at most, then X, XX or XXX for the zone")
	}
	if bounded := t.Minimum != "" || t.Maximum != ""; bounded && (base == "" || base == "string" || base == "boolean" || base == "anyURI") {
		c.refuse(way, base, "a minimum or maximum belongs to numbers and times")
	}
	c.properties(way+".", t.Other, ofDatatype)
}
