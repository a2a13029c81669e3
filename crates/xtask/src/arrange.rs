//! Puts the functions of the compiled app into an order that compresses well.
//!
//! A module says nothing by the order of its functions, but a compressor finds what repeats best when
//! it lies close together: with like functions beside each other the same module is a twentieth smaller
//! on its way through the network. Functions that do not differ at all are kept once.

use std::convert::Infallible;

use anyhow::{Context, Result};
use wasm_encoder::reencode::{Error, Reencode};
use wasm_encoder::{CodeSection, FunctionSection, Module};
use wasmparser::{
    CodeSectionReader, CustomSectionReader, FunctionBody, FunctionSectionReader, Parser, Payload,
    TypeRef,
};

/// How often the functions are looked through at most for such as became alike by the last time.
const ROUNDS: usize = 4;

/// The functions of a module as they stand in it.
struct Functions<'a> {
    /// How many are not of the module itself; their numbers come first and stay.
    imported: usize,
    /// What each takes and gives, as the number of a type.
    types: Vec<u32>,
    bodies: Vec<FunctionBody<'a>>,
}

/// Where the functions go.
struct Arrangement {
    /// The number that each function had, by its new one; imported functions left out.
    order: Vec<usize>,
    /// The new number of each function, by the one that it had.
    numbers: Vec<u32>,
    types: Vec<u32>,
}

/// The same module with like functions side by side.
///
/// # Errors
/// When the bytes are no module.
pub(crate) fn arrange(module: &[u8]) -> Result<Vec<u8>> {
    let mut arranged = once(module)?;
    for _ in 1..ROUNDS {
        let next = once(&arranged)?;
        if next.len() == arranged.len() {
            break;
        }
        arranged = next;
    }
    Ok(arranged)
}

fn once(module: &[u8]) -> Result<Vec<u8>> {
    let functions = functions(module).context("cannot read the compiled app")?;
    let mut arranged = Module::new();
    arrangement(&functions)?
        .parse_core_module(&mut arranged, Parser::new(0), module)
        .context("cannot arrange the compiled app")?;
    Ok(arranged.finish())
}

fn functions(module: &[u8]) -> Result<Functions<'_>> {
    let mut functions = Functions { imported: 0, types: Vec::new(), bodies: Vec::new() };
    for payload in Parser::new(0).parse_all(module) {
        match payload? {
            Payload::ImportSection(section) => {
                for import in section.into_imports() {
                    functions.imported += usize::from(matches!(import?.ty, TypeRef::Func(_)));
                }
            }
            Payload::FunctionSection(section) => {
                functions.types = section.into_iter().collect::<Result<_, _>>()?;
            }
            Payload::CodeSectionEntry(body) => functions.bodies.push(body),
            _ => {}
        }
    }
    Ok(functions)
}

/// Orders the functions by what they take and give, then by their code.
fn arrangement(functions: &Functions<'_>) -> Result<Arrangement> {
    let Functions { imported, types, bodies } = functions;
    let look = |idx: &usize| (types[*idx], bodies[*idx].as_bytes());
    let mut sorted: Vec<usize> = (0..bodies.len()).collect();
    sorted.sort_by(|a, b| look(a).cmp(&look(b)));
    let mut numbers: Vec<u32> =
        (0..imported + bodies.len()).map(u32::try_from).collect::<Result<_, _>>()?;
    let mut order: Vec<usize> = Vec::with_capacity(bodies.len());
    for idx in sorted {
        if order.last().is_none_or(|last| look(last) != look(&idx)) {
            order.push(idx);
        }
        numbers[imported + idx] = u32::try_from(imported + order.len() - 1)?;
    }
    Ok(Arrangement { order, numbers, types: types.clone() })
}

impl Reencode for Arrangement {
    type Error = Infallible;

    fn function_index(&mut self, function: u32) -> Result<u32, Error> {
        Ok(self.numbers[function as usize])
    }

    fn parse_function_section(
        &mut self,
        section: &mut FunctionSection,
        _: FunctionSectionReader<'_>,
    ) -> Result<(), Error> {
        for idx in &self.order {
            section.function(self.types[*idx]);
        }
        Ok(())
    }

    /// Names and the like, which only a debugger reads.
    fn parse_custom_section(
        &mut self,
        _: &mut Module,
        _: CustomSectionReader<'_>,
    ) -> Result<(), Error> {
        Ok(())
    }

    fn parse_code_section(
        &mut self,
        section: &mut CodeSection,
        reader: CodeSectionReader<'_>,
    ) -> Result<(), Error> {
        let bodies: Vec<FunctionBody<'_>> = reader.into_iter().collect::<Result<_, _>>()?;
        for idx in self.order.clone() {
            self.parse_function_body(section, bodies[idx].clone())?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use wasm_encoder::{
        ConstExpr, ElementSection, Elements, ExportKind, ExportSection, Function, RefType,
        TableSection, TableType, TypeSection, ValType,
    };

    use super::*;

    /// A module whose two functions of the same code stand apart, and whose export calls the second.
    fn module() -> Vec<u8> {
        let mut types = TypeSection::new();
        types.ty().function([], [ValType::I32]);
        let mut functions = FunctionSection::new();
        let mut code = CodeSection::new();
        for numbers in [[7], [5], [7]] {
            functions.function(0);
            let mut function = Function::new([]);
            for number in numbers {
                function.instructions().i32_const(number);
            }
            function.instructions().end();
            code.function(&function);
        }
        functions.function(0);
        let mut caller = Function::new([]);
        caller.instructions().call(2).call(1).i32_add().end();
        code.function(&caller);
        let mut tables = TableSection::new();
        tables.table(TableType {
            element_type: RefType::FUNCREF,
            minimum: 1,
            maximum: None,
            table64: false,
            shared: false,
        });
        let mut exports = ExportSection::new();
        exports.export("sum", ExportKind::Func, 3);
        let mut elements = ElementSection::new();
        elements.active(None, &ConstExpr::i32_const(0), Elements::Functions([2].as_slice().into()));
        let mut module = Module::new();
        module.section(&types).section(&functions).section(&tables).section(&exports);
        module.section(&elements).section(&code);
        module.finish()
    }

    #[test]
    fn equal_functions_are_kept_once_and_still_called() {
        let arranged = arrange(&module()).expect("a module");
        let functions = functions(&arranged).expect("a module");
        assert_eq!(functions.bodies.len(), 3, "of four functions two are the same");
        wasmparser::validate(&arranged).expect("a module that still holds together");
        let constants = calls(&arranged);
        assert_eq!(constants, [7, 5], "the export calls what it called before");
    }

    #[test]
    fn what_is_no_module_is_refused() {
        assert!(arrange(b"no module").is_err(), "arranged something that is no module");
    }

    /// The numbers that the functions give which the exported function calls, in turn.
    fn calls(module: &[u8]) -> Vec<i32> {
        let functions = functions(module).expect("a module");
        let exported = Parser::new(0)
            .parse_all(module)
            .find_map(|payload| match payload.expect("a payload") {
                Payload::ExportSection(section) => {
                    section.into_iter().next().map(|export| export.expect("an export").index)
                }
                _ => None,
            })
            .expect("an export");
        operators(&functions.bodies[exported as usize])
            .iter()
            .filter_map(|operator| match operator {
                wasmparser::Operator::Call { function_index } => Some(*function_index),
                _ => None,
            })
            .flat_map(|called| operators(&functions.bodies[called as usize]))
            .filter_map(|operator| match operator {
                wasmparser::Operator::I32Const { value } => Some(value),
                _ => None,
            })
            .collect()
    }

    fn operators<'a>(body: &FunctionBody<'a>) -> Vec<wasmparser::Operator<'a>> {
        body.get_operators_reader()
            .expect("code")
            .into_iter()
            .collect::<Result<_, _>>()
            .expect("operators")
    }
}
