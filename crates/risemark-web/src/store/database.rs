//! The storage of the browser: the only place that touches it.

use js_sys::{Array, Object, Promise, Reflect};
use leptos::prelude::window;
use wasm_bindgen::{JsCast, JsValue, closure::Closure, prelude::wasm_bindgen};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    DomException, Event, IdbDatabase, IdbKeyRange, IdbObjectStore, IdbOpenDbRequest, IdbTransaction,
};

use super::{Answer, Change, Fault, Record, Store, last};

const NAME: &str = "risemark";

/// Grows only when other object stores are needed; the form of records has a version of its own.
const VERSION: u32 = 1;

const RECORDS: &str = "records";

/// A browser that does not answer gives no storage either.
const PATIENCE_MS: i32 = 4000;

#[wasm_bindgen]
extern "C" {
    /// The database, with the one method that the bindings lack.
    #[wasm_bindgen(extends = IdbDatabase)]
    type Durable;

    #[wasm_bindgen(method, catch, js_name = transaction)]
    fn begin(
        this: &Durable,
        store: &str,
        mode: &str,
        options: &JsValue,
    ) -> Result<IdbTransaction, JsValue>;
}

/// The records in the browser's storage.
#[derive(Debug)]
pub struct Database(IdbDatabase);

impl Database {
    /// Opens the storage; `closed` is called when a newer version of the app takes it over. The browser
    /// is asked at once, whenever the answer is waited for.
    ///
    /// # Errors
    /// When the browser gives no storage, another tab is in the way, or a newer version has been here.
    pub fn open(
        closed: impl Fn() + 'static,
    ) -> Result<impl Future<Output = Result<Self, Fault>>, Fault> {
        let factory = window().indexed_db().ok().flatten().ok_or(Fault::Denied)?;
        let request = factory.open_with_u32(NAME, VERSION).map_err(|_| Fault::Denied)?;
        Ok(Self::opened(request, closed))
    }

    /// Opens the storage as a newer version has left it, to read it.
    ///
    /// # Errors
    /// When the browser does not open it.
    pub async fn open_newer() -> Result<Self, Fault> {
        let factory = window().indexed_db().ok().flatten().ok_or(Fault::Denied)?;
        let request = factory.open(NAME).map_err(|_| Fault::Denied)?;
        Self::opened(request, || {}).await
    }

    fn opened(
        request: IdbOpenDbRequest,
        closed: impl Fn() + 'static,
    ) -> impl Future<Output = Result<Self, Fault>> {
        let upgrading = request.clone();
        let upgrade = Closure::once_into_js(move || {
            // When this fails, so does the opening.
            let database = upgrading.result().map(JsCast::unchecked_into::<IdbDatabase>);
            let _made = database.and_then(|database| database.create_object_store(RECORDS));
        });
        request.set_onupgradeneeded(Some(upgrade.unchecked_ref()));
        let answer = JsFuture::from(opened(&request));
        async move {
            answer.await.map_err(|event| Self::refusal(&request, &event))?;
            Self::taken(&request, closed)
        }
    }

    fn refusal(request: &IdbOpenDbRequest, event: &JsValue) -> Fault {
        let kind = event.dyn_ref::<Event>().map(Event::type_);
        let name = request.error().ok().flatten().map(|error| error.name());
        match (kind.as_deref(), name.as_deref()) {
            (Some("blocked"), _) => Fault::Blocked,
            (_, Some("VersionError")) => Fault::Closed,
            _ => Fault::Denied,
        }
    }

    fn taken(request: &IdbOpenDbRequest, closed: impl Fn() + 'static) -> Result<Self, Fault> {
        let database: IdbDatabase = request.result().map_err(|_| Fault::Denied)?.unchecked_into();
        let closing = database.clone();
        let close = Closure::<dyn Fn()>::new(move || {
            // A tab that held on would keep the newer version from starting.
            closing.close();
            closed();
        });
        database.set_onversionchange(Some(close.into_js_value().unchecked_ref()));
        Ok(Self(database))
    }

    fn begin(&self, mode: &str) -> Result<(IdbTransaction, IdbObjectStore), JsValue> {
        let options = Object::new();
        Reflect::set(&options, &"durability".into(), &"strict".into())?;
        let transaction = self.0.unchecked_ref::<Durable>().begin(RECORDS, mode, &options)?;
        let store = transaction.object_store(RECORDS)?;
        Ok((transaction, store))
    }

    fn ask(
        &self,
        prefix: &str,
    ) -> Result<impl Future<Output = Result<Vec<Record>, JsValue>> + use<>, JsValue> {
        let (transaction, store) = self.begin("readonly")?;
        let range = between(prefix, &last(prefix))?;
        let (keys, texts) = (store.get_all_keys_with_key(&range)?, store.get_all_with_key(&range)?);
        let done = done(&transaction);
        Ok(async move {
            JsFuture::from(done).await?;
            let (keys, texts) = (Array::from(&keys.result()?), Array::from(&texts.result()?));
            let pairs = keys.iter().zip(texts.iter());
            let text = |value: JsValue| value.as_string().unwrap_or_default();
            Ok(pairs.map(|(key, value)| Record { key: text(key), text: text(value) }).collect())
        })
    }

    fn change(&self, changes: Vec<Change>) -> Result<Promise, JsValue> {
        let (transaction, store) = self.begin("readwrite")?;
        for change in changes {
            let asked = match change {
                Change::Put(Record { key, text }) => store.put_with_key(&text.into(), &key.into()),
                Change::Clear(from, to) => store.delete(&between(&from, &to)?),
            };
            if let Err(error) = asked {
                // What was asked before goes with it: all of the changes or none. A transaction that
                // has ended already cannot be ended again; why it did is what the caller is told.
                let _ended = transaction.abort();
                return Err(error);
            }
        }
        let done = done(&transaction);
        end(&transaction);
        Ok(done)
    }
}

impl Store for Database {
    fn read(&self, prefix: &str) -> Answer<Vec<Record>> {
        let asked = self.ask(prefix);
        Box::pin(async { asked.map_err(fault)?.await.map_err(fault) })
    }

    fn write(&self, changes: Vec<Change>) -> Answer<()> {
        let asked = self.change(changes);
        Box::pin(async { JsFuture::from(asked.map_err(fault)?).await.map(drop).map_err(fault) })
    }
}

/// Whether the browser promises to keep the storage when it runs short of room; asks for it.
pub async fn is_lasting() -> bool {
    let asked = window().navigator().storage().persist();
    match asked {
        Ok(asked) => JsFuture::from(asked).await.is_ok_and(|answer| answer.is_truthy()),
        Err(_) => false,
    }
}

fn opened(request: &IdbOpenDbRequest) -> Promise {
    Promise::new(&mut |resolve, reject| {
        request.set_onsuccess(Some(&resolve));
        request.set_onerror(Some(&reject));
        request.set_onblocked(Some(&reject));
        // Without a timer the app would only wait longer.
        let _timer =
            window().set_timeout_with_callback_and_timeout_and_arguments_0(&reject, PATIENCE_MS);
    })
}

/// Comes when the changes are on the disk, not when they were asked for.
fn done(transaction: &IdbTransaction) -> Promise {
    Promise::new(&mut |resolve, reject| {
        transaction.set_oncomplete(Some(&resolve));
        transaction.set_onabort(Some(&reject));
    })
}

/// Has the changes written now. Otherwise the browser waits until the page has heard of each of them, which
/// it does not while it draws; one that cannot be asked still does so.
#[expect(deprecated, reason = "the bindings say so; it is part of Indexed Database API 3.0")]
fn end(transaction: &IdbTransaction) {
    let _asked = transaction.commit();
}

fn between(from: &str, to: &str) -> Result<JsValue, JsValue> {
    IdbKeyRange::bound(&from.into(), &to.into()).map(JsValue::from)
}

/// What an exception, or the event of a transaction that ended early, means.
fn fault(error: JsValue) -> Fault {
    let exception = match error.dyn_into::<Event>() {
        Ok(event) => {
            let transaction = event.target().map(JsCast::unchecked_into::<IdbTransaction>);
            transaction.and_then(|transaction| transaction.error())
        }
        Err(error) => error.dyn_into::<DomException>().ok(),
    };
    match exception.map(|exception| exception.name()).as_deref() {
        Some("QuotaExceededError") => Fault::Full,
        Some("InvalidStateError") => Fault::Closed,
        _ => Fault::Failed,
    }
}
